import { describe, expect, it } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { canonicalText, partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, sha256Hex, thumbprintOf } from '#bench/certificates/key-set.rules'
import type { CertificateStatus } from '#bench/certificates/status.contract'
import { draftStanding } from '#bench/certificates/status.rules'
import { DAY, HOUR, toIso } from '#kernel/instant'
import { makeLot, makeKey as makeLotKey } from '#test/make/lot-history'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

/** Files that somebody chooses together on the checking page, as the page judges them. */

const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
const named = (seed?: string) => aKey(thumbprintOf(xOf(aKey('any', seed))), seed)
const house = named()
const keysOf = (key: typeof house) => {
  const read = readKeySet(key.jwks())
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
}
const unit = aUnit()
const certificate = draftCertificate({
  unit,
  issuer: anIssuer,
  serial: 'TS-2027-0147-M',
  issuedAt: BENCH_OPENS + 10 * DAY,
  home: 'https://longbench.example',
})
const signed = (document: object, key = house) => signedWith(key, partsToSign(document, key.kid))
const own = signed(certificate)
const file = (name: string, content: unknown) => ({ name, bytes: new TextEncoder().encode(JSON.stringify(content)) })
const check = (...files: ReturnType<typeof file>[]) => checkChosen(files, keysOf(house))

describe('one file that nobody can read keeps no other from being judged', () => {
  it.each<[string, object]>([
    ['without a payload', { protected: own.protected, signature: own.signature }],
    ['with a number as its payload', { ...own, payload: 7 }],
    ['with a list as its payload', { ...own, payload: ['x'] }],
    ['with null as what it claims to say', { ...own, payload: 'bnVsbA' }],
    [
      'that claims results which are no list',
      { ...own, payload: Buffer.from(canonicalText({ ...certificate, results: 7 })).toString('base64url') },
    ],
    [
      'that claims results of null',
      { ...own, payload: Buffer.from(canonicalText({ ...certificate, results: [null] })).toString('base64url') },
    ],
    ['of a record that names its certificate by an object', { kind: 'tagstrip-record', certificate: { toString: 1 } }],
    ['of a lot, of another form', { ...makeLot({}).history(makeLotKey()), leaves: [{ kind: 7 }, null], heads: 'x' }],
  ])('%s', async (_, bad) => {
    const record = { kind: 'tagstrip-record', tag: unit.tag, results: [] }
    const findings = await check(file('bad.json', bad), file('good.json', own), file('other.json', { ...record, certificate: 'none' }))
    expect(findings.filter(({ about }) => about === 'bad.json').some(({ tone }) => tone !== 'ok')).toBe(true)
    expect(findings.find(({ about, isVerdict }) => about === 'good.json' && isVerdict)?.tone).toBe('ok')
    expect(findings.find(({ about }) => about === 'other.json')?.tone).toBe('bad')
  })
})

describe('a verdict that begins with a serial', () => {
  it('spells it as it is', async () => {
    const [found] = await check(file('certificate.json', signed({ ...certificate, serial: 'TS-2027-0147-N' })))
    expect(found?.title).toContain('by its own rules: TS-2027-0147-N is not a serial')
  })
})

describe('a file that says how certificates stand', () => {
  const NOW = Date.now()
  const stranger = named('4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb')
  // The page goes by the clock of whoever looks, so what is said here is said around now.
  const dated = { ...certificate, issuedAt: toIso(NOW - 9 * DAY) }
  const own = signed(dated)
  const { serial, issuedAt, item } = dated
  const next = 'TS-2027-0148-K'
  const of = { serial, unit: item.tag, issuedAt, document: sha256Hex(Buffer.from(own.payload, 'base64url')) }
  const current: CertificateStatus = { ...of, is: 'current' }
  const withdrawn: CertificateStatus = {
    ...of,
    is: 'withdrawn',
    at: toIso(NOW - 2 * HOUR),
    reason: 'A lead came loose.',
    again: [],
    by: null,
  }
  const superseded: CertificateStatus = { ...of, is: 'superseded', at: toIso(NOW - 2 * HOUR), by: next }
  const said = (hoursAgo: number, status: CertificateStatus, change: object = {}) => {
    const draft = draftStanding({ covers: 'one', certificates: [status], now: NOW - hoursAgo * HOUR, home: 'https://longbench.example' })
    return signed({ ...draft, ...change })
  }
  const foreign = () => {
    const draft = draftStanding({ covers: 'one', certificates: [current], now: NOW - HOUR, home: 'https://other.example' })
    return signedWith(stranger, partsToSign(draft, stranger.kid))
  }
  const verdict = async (...files: ReturnType<typeof file>[]) => (await check(...files)).find(({ isVerdict }) => isVerdict)

  it('by a key that is not at hand is by a stranger, whether or not the keys of the house were brought too', async () => {
    for (const more of [[], [file('jwks.json', house.jwks())]]) {
      const found = await verdict(file('status.json', foreign()), ...more)
      expect(found).toMatchObject({ tone: 'bad', title: expect.stringContaining('by a key that this house does not name') })
    }
    expect((await verdict(file('status.json', foreign()), file('jwks.json', stranger.jwks())))?.title).toContain(
      'It is whole, but by a key that this house does not name',
    )
  })

  it('whole, and said in times to come or for too long, was not changed', async () => {
    for (const status of [said(-1, current), said(1, current, { until: toIso(NOW + 40 * HOUR) })])
      expect(await verdict(file('status.json', status))).toMatchObject({
        tone: 'bad',
        title: expect.stringMatching(/^It is this house’s and unchanged, but does not hold by its own rules/),
      })
  })

  it('does not say that a certificate stands where a newer one withdrew it', async () => {
    const findings = await check(file('certificate.json', own), file('old.json', said(3, current)), file('new.json', said(1, withdrawn)))
    expect(findings.filter(({ tone, isVerdict }) => tone === 'ok' && !isVerdict)).toEqual([])
    expect(findings.find(({ about, isVerdict }) => about === 'old.json' && !isVerdict)).toMatchObject({
      tone: 'doubt',
      title: 'It stood then, but no longer does',
      words: expect.stringContaining(`new.json is newer, and says that ${serial} was withdrawn since`),
    })
  })

  it('may not call current again what was superseded, nor let another take its place', async () => {
    for (const back of [current, { ...superseded, by: 'TS-2027-0149-H' } as CertificateStatus]) {
      const findings = await check(file('old.json', said(1.5, superseded)), file('new.json', said(1, back)))
      expect(findings.at(-1)).toMatchObject({ tone: 'bad', title: 'What was said of a certificate was taken back' })
    }
    const kept = await check(file('old.json', said(1.5, superseded)), file('new.json', said(1, withdrawn)))
    expect(kept.filter(({ title }) => title.includes('taken back'))).toEqual([])
  })

  it('is contradicted by a certificate that names the withdrawn one', async () => {
    const later = {
      ...certificate,
      serial: next,
      withdrawn: [{ serial, at: toIso(NOW - 2 * HOUR), reason: 'A lead came loose.', again: [] }],
    }
    for (const [status, count] of [
      [said(1, current), 1],
      [said(1, superseded), 1],
      [said(1, withdrawn), 0],
      [said(3, current), 0],
    ] as const) {
      const findings = await check(file('later.json', signed(later)), file('status.json', status))
      expect(findings.filter(({ title }) => title === 'A withdrawal was taken back')).toHaveLength(count)
    }
  })

  it('and a certificate do not stand where another certificate names that as withdrawn', async () => {
    const later = {
      ...dated,
      serial: next,
      issuedAt: toIso(NOW - HOUR / 2),
      withdrawn: [{ serial, at: toIso(NOW - HOUR / 2), reason: 'A lead came loose.', again: [] }],
    }
    const findings = await check(file('a.json', own), file('b.json', signed(later)), file('status.json', said(1, current)))
    expect(findings.filter(({ title }) => title === 'It stands')).toEqual([])
    expect(findings).toContainEqual(
      expect.objectContaining({ tone: 'bad', title: 'It does not stand', words: expect.stringContaining(`So says ${next}`) }),
    )
    expect(findings).toContainEqual(
      expect.objectContaining({ tone: 'doubt', about: 'status.json', title: 'It stood then, but no longer does' }),
    )
  })

  it('of which two took the place of each other is refused', async () => {
    const at = toIso(NOW - 2 * HOUR)
    const two = [superseded, { ...of, serial: next, is: 'superseded', at, by: serial }]
    const found = await verdict(file('certificates.json', said(1, current, { covers: 'all', certificates: two })))
    expect(found?.title).toContain('cannot follow')
  })
})
