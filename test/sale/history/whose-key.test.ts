import { describe, expect, it } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { canonicalText, partsToSign } from '#bench/certificates/jws.rules'
import { type PublicKey, readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { publicRecord, recordForMachines } from '#bench/certificates/public-record.rules'
import { MINUTE, SECOND } from '#kernel/instant'
import type { History } from '#sale/history/history.contract'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

const CLOSES = 60 * MINUTE
const xOf = ({ raw }: ReturnType<typeof makeKey>) => Buffer.from(raw).toString('base64url')
const setOf = (x: string) => ({ keys: [{ kty: 'OKP', crv: 'Ed25519', x, kid: thumbprintOf(x) }] })
const keysOf = (x: string): PublicKey[] => {
  const read = readKeySet(setOf(x))
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
}
const file = (name: string, content: unknown) => ({
  name,
  bytes: new TextEncoder().encode(typeof content === 'string' ? content : JSON.stringify(content)),
})

const house = makeKey()
const stranger = makeKey()
function lotWith(bids: [string, number][], isClosed = true) {
  const lot = makeLot({ closesAt: CLOSES })
  for (const [index, [bidder, amount]] of bids.entries()) lot.bid(bidder, pounds(amount), (index + 1) * SECOND)
  if (isClosed) lot.say({ kind: 'close' }, CLOSES)
  return lot
}
const BIDS: [string, number][] = [
  ['4K', 60],
  ['7R', 90],
]
const verdictOn = async (chosen: Parameters<typeof checkChosen>[0], known = keysOf(xOf(house))) =>
  (await checkChosen(chosen, known)).find(({ isVerdict }) => isVerdict)

describe('the sentence at the top, of a history', () => {
  it('is that it is this house’s, and whole', async () => {
    const verdict = await verdictOn([file('history.json', lotWith(BIDS).history(house))])
    expect(verdict).toMatchObject({ tone: 'ok', title: 'It is this house’s, and whole.' })
  })

  it('is that it is whole but by a key that this house does not name, though the file brings that key', async () => {
    const kid = thumbprintOf(xOf(stranger))
    const verdict = await verdictOn([file('history.json', lotWith(BIDS).history(stranger)), file('jwks.json', setOf(xOf(stranger)))])
    expect(verdict?.tone).toBe('bad')
    expect(verdict?.title).toContain('It is whole, but by a key that this house does not name')
    expect(verdict?.title).toContain(kid.slice(0, 4))
  })

  it('is the same where this browser knows no key of any house, since a file cannot name its own house', async () => {
    const chosen = [file('history.json', lotWith(BIDS).history(stranger)), file('jwks.json', setOf(xOf(stranger)))]
    expect((await verdictOn(chosen, []))?.tone).toBe('bad')
  })

  it('names a strange key that is not at hand', async () => {
    const verdict = await verdictOn([file('history.json', lotWith(BIDS).history(stranger))])
    expect(verdict).toMatchObject({ tone: 'bad', title: expect.stringContaining('a key that this house does not name') })
  })

  it('is that it was changed, and where', async () => {
    const text = JSON.stringify(lotWith(BIDS).history(house)).replace('"standingMinor":6500', '"standingMinor":6600')
    const verdict = await verdictOn([file('history.json', text)])
    expect(verdict).toMatchObject({ tone: 'bad', title: expect.stringContaining('It was changed: the entries do not lead to the head') })
  })

  it.each<[string, Partial<History>]>([
    ['its lot', { lot: 8 }],
    ['its title', { title: 'Another machine' }],
    ['its state', { state: 'unsold' }],
    ['its links', { links: { lot: '/lots/8', page: '/lots/7/history', keys: '/.well-known/jwks.json' } }],
  ])('is that it was changed, and not that the house signed what does not hold, where %s is another', async (_, change) => {
    const verdict = await verdictOn([file('history.json', { ...lotWith(BIDS).history(house), ...change })])
    expect(verdict).toMatchObject({ tone: 'bad', title: expect.stringMatching(/^It was changed: /) })
  })

  it('is that the house signed what does not hold, where it did', async () => {
    const lot = lotWith(BIDS)
    Object.assign(lot.leaves[2] ?? {}, { standingMinor: pounds(70) })
    Object.assign(lot.leaves[3] ?? {}, { hammerMinor: pounds(70) })
    const verdict = await verdictOn([file('history.json', lot.history(house))])
    expect(verdict?.title).toBe(
      'It is this house’s and unchanged, but does not hold by its own rules: Entry 3 (bid): by the rule the standing bid would be another.',
    )
  })

  it('finds a head whose four bytes name another key than the one that signed', async () => {
    const history = lotWith(BIDS).history(house)
    const found: string[] = []
    for (const [index, head] of history.heads.entries()) {
      for (let byte = 0; byte < 4; byte++) {
        const forged = JSON.parse(JSON.stringify(history)) as History
        const [, before = '', line = ''] = /^([\s\S]*— \S+ )(\S+)\n$/.exec(head.checkpoint) ?? []
        const bytes = Buffer.from(line, 'base64')
        bytes[byte] = (bytes[byte] ?? 0) ^ 0x40
        Object.assign(forged.heads[index] ?? {}, { checkpoint: `${before}${bytes.toString('base64')}\n` })
        if ((await verdictOn([file('history.json', forged)]))?.tone !== 'bad') found.push(`head ${index}, byte ${byte}`)
      }
    }
    expect(found).toEqual([])
  })

  it.each([
    ['a name that stands twice', '"lot":7', '"lot":8,"lot":7', 'The name “lot” stands twice'],
    ['a number spelt otherwise', '"lot":7,', '"lot":7.0,', 'The number 7.0 is not spelt'],
  ])('refuses %s', async (_, from, to, words) => {
    const text = JSON.stringify(lotWith(BIDS).history(house)).replace(from, to)
    const [found] = await checkChosen([file('history.json', text)], keysOf(xOf(house)))
    expect(found).toMatchObject({ tone: 'bad', words: expect.stringContaining(words) })
  })
})

describe('two histories', () => {
  const open = lotWith(BIDS.slice(0, 1), false).history(house)
  const closed = lotWith(BIDS).history(house)
  const compared = async (one: History, other: History) =>
    (await checkChosen([file('one.json', one), file('other.json', other)], keysOf(xOf(house)))).at(-1)

  it('of one lot are the same, or one is the beginning of the other', async () => {
    expect(await compared(closed, closed)).toMatchObject({ tone: 'ok', title: 'The two histories are the same' })
    expect(await compared(closed, open)).toMatchObject({
      tone: 'ok',
      words: 'other.json is the beginning of one.json: its 2 entries are the first of 5.',
    })
  })

  it('that contradict each other are told apart at the first entry that differs, though each is whole', async () => {
    const other = lotWith([BIDS[0] ?? ['4K', 60], ['9F', 90]]).history(house)
    const findings = await checkChosen([file('one.json', closed), file('other.json', other)], keysOf(xOf(house)))
    expect(findings.filter(({ isVerdict }) => isVerdict).map(({ tone }) => tone)).toEqual(['ok', 'ok'])
    expect(findings.at(-1)).toMatchObject({ tone: 'bad', words: expect.stringContaining('from entry 3 on. one.json: “Bid 2 by 7R') })
  })

  it('that contradict each other are found behind a third, which is the beginning of both', async () => {
    const other = lotWith([BIDS[0] ?? ['4K', 60], ['9F', 90]]).history(house)
    const chosen = [file('third.json', open), file('one.json', closed), file('other.json', other)]
    const found = (await checkChosen(chosen, keysOf(xOf(house)))).filter(({ title }) => title.includes('contradict'))
    expect(found).toMatchObject([{ tone: 'bad', about: 'one.json, other.json' }])
  })

  it('of one file name are two files', async () => {
    const other = lotWith([BIDS[0] ?? ['4K', 60], ['9F', 90]]).history(house)
    const findings = await checkChosen([file('history.json', closed), file('history.json', other)], keysOf(xOf(house)))
    expect(findings.filter(({ isVerdict }) => isVerdict).map(({ about }) => about)).toEqual(['history.json', 'history.json (2)'])
    expect(findings.at(-1)).toMatchObject({ tone: 'bad', about: 'history.json, history.json (2)' })
  })

  it('of which a stranger signed one are not compared, whether its key came with it or not', async () => {
    const other = lotWith([BIDS[0] ?? ['4K', 60], ['9F', 90]]).history(stranger)
    for (const more of [[], [file('jwks.json', setOf(xOf(stranger)))]]) {
      const findings = await checkChosen([file('one.json', closed), file('other.json', other), ...more], keysOf(xOf(house)))
      expect(findings.filter(({ title }) => title.includes('histories'))).toEqual([])
    }
  })

  it('of two lots are not compared', async () => {
    const other = makeLot({ closesAt: CLOSES, number: 8 }).history(house)
    expect(await compared(closed, other)).toMatchObject({ tone: 'doubt', words: expect.stringContaining('house.example/lots/8') })
  })
})

describe('the sentence at the top, of a signed record', () => {
  const signer = (seed?: string) => {
    const bare = aKey('any', seed)
    const x = String((bare.jwks().keys[0] as { x?: string }).x)
    return { key: aKey(thumbprintOf(x), seed), x }
  }
  const ours = signer()
  const other = signer('4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb')
  const unit = aUnit({ checks: aUnit().checks.slice(0, 2), fitted: [], instruments: [] })
  const draft = draftCertificate({
    unit,
    issuer: anIssuer,
    serial: 'TS-2027-0147-M',
    issuedAt: BENCH_OPENS,
    home: 'https://longbench.example',
  })
  const signedBy = ({ key }: typeof ours) => signedWith(key, partsToSign(draft, key.kid))

  it('tells the house’s from one whose key came with it', async () => {
    expect(await verdictOn([file('s.json', signedBy(ours))], keysOf(ours.x))).toMatchObject({
      tone: 'ok',
      title: 'It is this house’s, and whole.',
    })
    expect(await verdictOn([file('s.json', signedBy(other)), file('jwks.json', setOf(other.x))], keysOf(ours.x))).toMatchObject({
      tone: 'bad',
      title: expect.stringContaining('by a key that this house does not name'),
    })
    expect(await verdictOn([file('s.json', signedBy(other))], keysOf(ours.x))).toMatchObject({ tone: 'bad' })
    expect(await verdictOn([file('s.json', signedBy(other))], [])).toMatchObject({ tone: 'doubt' })
  })

  it('is one for each of two files of one name, and each record is held against the certificate of its own machine', async () => {
    const second = aUnit({ ...unit, tag: 'TERN-09' })
    const issue = { issuer: anIssuer, issuedAt: BENCH_OPENS, home: 'https://longbench.example' }
    const both = [draft, draftCertificate({ unit: second, serial: 'TS-2027-0148-K', ...issue })]
    const records = [unit, second].map((one) => recordForMachines(publicRecord(one, false), null))
    for (const order of [both, both.toReversed()]) {
      const certificates = order.map((one) => file('certificate.json', signedWith(ours.key, partsToSign(one, ours.key.kid))))
      const findings = await checkChosen([...certificates, ...records.map((one) => file('record.json', one))], keysOf(ours.x))
      expect(findings.filter(({ isVerdict }) => isVerdict)).toHaveLength(2)
      expect(findings.filter(({ tone }) => tone !== 'ok')).toEqual([])
      expect(findings.filter(({ title }) => title === 'It says the same as what was signed')).toHaveLength(2)
    }
  })

  it('says that it was changed', async () => {
    const signed = signedBy(ours)
    const payload = Buffer.from(canonicalText({ ...draft, serial: 'TS-2027-0148-K' })).toString('base64url')
    expect(await verdictOn([file('s.json', { ...signed, payload })], keysOf(ours.x))).toMatchObject({
      tone: 'bad',
      title: expect.stringContaining('It was changed: the signature does not fit'),
    })
  })
})
