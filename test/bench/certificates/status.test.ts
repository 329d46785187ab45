import { createHash, createPublicKey, verify } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { verifyByLibrary } from '#app/_trust/ed25519.ts'
import { toBase64url } from '#bench/certificates/base64url.rules'
import { readChosen } from '#bench/certificates/chosen-file.rules'
import { canonicalText, partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import type { CertificateStatus, StandingPayload } from '#bench/certificates/status.contract'
import { checkStanding, draftStanding, listWords, tellStanding } from '#bench/certificates/status.rules'
import { takenBack } from '#bench/certificates/together.rules'
import { ADDRESSES } from '#doors/web/addresses'
import { DAY, HOUR } from '#kernel/instant'
import { matchAddress } from '#runtime/call/address'
import { certify, makeTestedUnit } from '#test/make/lot'
import { aKey, signedWith } from '#test/make/signing-key'
import { openStage, type Stage } from '#test/stage'
import { verifyStanding } from '#test/verifier/verify-certificate'

const NOW = Date.parse('2027-03-13T12:00:00.000Z')
const at = (hours: number) => new Date(NOW + hours * HOUR).toISOString()
const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
const named = (seed?: string) => aKey(thumbprintOf(xOf(aKey('any', seed))), seed)
const key = named()
const stranger = named('4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb')
const keys = (() => {
  const read = readKeySet(key.jwks())
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
})()
const check = (file: unknown) => checkStanding(file, keys, async (x, signature, text) => verifyByLibrary(x, signature, text), NOW)
const of = (number: number, unit: string, hours: number) => ({
  serial: `TS-2027-000${number}-L`,
  unit,
  issuedAt: at(hours),
  document: String(number).repeat(64),
})
const REASON = 'The meter of that day read high.'
const LIST: CertificateStatus[] = [
  { ...of(1, 'TERN-01', -90), is: 'superseded', at: at(-80), by: 'TS-2027-0002-L' },
  { ...of(2, 'TERN-01', -80), is: 'current' },
  { ...of(3, 'TERN-02', -70), is: 'withdrawn', at: at(-60), reason: REASON, again: ['B6'], by: 'TS-2027-0004-L' },
  { ...of(4, 'TERN-02', -50), is: 'current' },
  { ...of(5, 'TERN-03', -40), is: 'withdrawn', at: at(-30), reason: 'Set aside', again: [], by: null },
]
const draft = (certificates = LIST, covers: StandingPayload['covers'] = 'all') =>
  draftStanding({ covers, certificates, now: NOW, home: 'https://house.example' })
const signed = (payload: object = draft(), by = key) => signedWith(by, partsToSign(payload, by.kid))

describe('the signed list of all serials', () => {
  test('holds, is told apart from a certificate, and answers for each of them offline', async () => {
    const file = readChosen(new TextEncoder().encode(JSON.stringify(signed())))
    expect(file).toMatchObject({ kind: 'standing' })
    const read = await check('value' in file ? file.value : null)
    if (read.outcome !== 'holds') throw new Error(read.words)
    const tell = (serial: string, more = {}, now = NOW) => tellStanding(read.standing, { serial, ...more }, now)
    expect(tell('TS-2027-0002-L')).toMatchObject({ tone: 'ok', words: expect.stringContaining('until 2027-03-14 12:00 UTC') })
    expect(tell('TS-2027-0002-L', {}, NOW + DAY)).toMatchObject({ tone: 'ok' })
    expect(tell('TS-2027-0002-L', {}, NOW + DAY + 1)).toMatchObject({ tone: 'doubt', words: expect.stringContaining('fetch a newer one') })
    expect(tell('TS-2027-0001-L')).toMatchObject({
      tone: 'doubt',
      words: expect.stringContaining('superseded on 2027-03-10 by TS-2027-0002-L'),
    })
    // What is withdrawn stays so, however old the answer.
    expect(tell('TS-2027-0003-L', {}, NOW + 99 * DAY)).toEqual({
      tone: 'bad',
      words: `TS-2027-0003-L was withdrawn on 2027-03-11: ${REASON} To be measured again: B6. TS-2027-0004-L was issued after it.`,
    })
    expect(tell('TS-2027-0005-L').words).toContain('Set aside. No other was issued after it.')
    expect(tell('TS-2027-0009-L')).toMatchObject({ tone: 'bad', words: expect.stringContaining('had issued no certificate') })
    expect(tell('TS-2027-0009-L', { issuedAt: at(2) })).toMatchObject({
      tone: 'doubt',
      words: expect.stringContaining('Fetch a newer one'),
    })
    expect(tell('TS-2027-0002-L', { document: '2'.repeat(64) }).tone).toBe('ok')
    expect(tell('TS-2027-0002-L', { document: '3'.repeat(64) })).toMatchObject({
      tone: 'bad',
      words: expect.stringContaining('another document'),
    })
    expect(listWords(read.standing, NOW)).toEqual({
      tone: 'ok',
      words:
        'On 2027-03-13 12:00 UTC: 5 issued, 2 stand, 1 superseded, withdrawn were TS-2027-0003-L, TS-2027-0005-L. It may be relied on until 2027-03-14 12:00 UTC.',
    })
  })

  test('does not hold with one character of it changed, wherever it is', async () => {
    const file = signed()
    for (const part of ['protected', 'payload', 'signature'] as const)
      for (let place = 0; place < file[part].length; place += 41) {
        const other = file[part][place] === 'A' ? 'B' : 'A'
        const forged = { ...file, [part]: `${file[part].slice(0, place)}${other}${file[part].slice(place + 1)}` }
        expect((await check(forged)).outcome, `${part} ${place}`).toBe('broken')
      }
  })

  const forge = (change: (payload: StandingPayload) => void): object => {
    const payload = structuredClone(draft())
    change(payload)
    return payload
  }
  const entry = (payload: StandingPayload, place: number) => payload.certificates[place] as Record<string, unknown>

  test.each<[string, object, RegExp]>([
    [
      'a withdrawn one as current, with its reason left in',
      forge((p) => Object.assign(entry(p, 2), { is: 'current' })),
      /not what a house says/,
    ],
    ['a withdrawn one without a reason', forge((p) => Object.assign(entry(p, 2), { reason: '' })), /not what a house says/],
    ['a serial twice', forge((p) => p.certificates.push(LIST[1] as CertificateStatus)), /serial twice/],
    ['two that stand for one unit', forge((p) => Object.assign(entry(p, 3), { unit: 'TERN-01' })), /Two certificates|cannot follow/],
    ['one that is followed by none of the list', forge((p) => p.certificates.splice(1, 1)), /not in the list/],
    ['one that is followed by itself', forge((p) => Object.assign(entry(p, 0), { by: 'TS-2027-0001-L' })), /not in the list/],
    ['one that is followed by an earlier one', forge((p) => Object.assign(entry(p, 3), { issuedAt: at(-75) })), /cannot follow/],
    ['one that ended before it was issued', forge((p) => Object.assign(entry(p, 0), { at: at(-99) })), /ended at a time/],
    ['one that ended after this was said', forge((p) => Object.assign(entry(p, 4), { at: at(1) })), /ended at a time/],
    ['one that was issued after this was said', forge((p) => Object.assign(entry(p, 1), { issuedAt: at(1) })), /before that was issued/],
    ['an end before its beginning', forge((p) => Object.assign(p, { until: at(-1) })), /relied on until before/],
    ['a reason that is blank', forge((p) => Object.assign(entry(p, 4), { reason: ' \n' })), /without a reason/],
    ['a day to come', forge((p) => Object.assign(p, { saidAt: at(1), until: at(25) })), /yet to come/],
    ['an end more than a day later', forge((p) => Object.assign(p, { until: at(24.5) })), /longer than a day/],
    ['another name', forge((p) => Object.assign(p, { blessed: true })), /not what a house says/],
    ['a version to come', forge((p) => Object.assign(p, { version: 2 })), /not what a house says/],
    ['many under the claim to be one', forge((p) => Object.assign(p, { covers: 'one' })), /speak of one certificate/],
  ])('with %s is refused, by the document too, though the key of the house signed it', async (_what, payload, words) => {
    const head = toBase64url(new TextEncoder().encode(canonicalText({ alg: 'EdDSA', kid: key.kid })))
    const body = toBase64url(new TextEncoder().encode(canonicalText(payload)))
    const forged = { protected: head, payload: body, signature: toBase64url(key.sign(new TextEncoder().encode(`${head}.${body}`))) }
    expect(await check(forged)).toMatchObject({ outcome: 'broken', words: expect.stringMatching(words) })
    expect(() => verifyStanding(forged, key.jwks(), NOW)).toThrow()
  })

  test('is contradicted by another that takes a withdrawal back, whichever is looked at first', () => {
    const later = (certificates: CertificateStatus[]) => ({ ...draft(certificates), saidAt: at(1) })
    const back = later(LIST.map((one) => (one.serial === 'TS-2027-0005-L' ? { ...of(5, 'TERN-03', -40), is: 'current' } : one)))
    for (const [one, other] of [
      [draft(), back],
      [back, draft()],
    ] as const)
      expect(takenBack(one, other)).toContain(
        'TS-2027-0005-L was withdrawn by what the house said on 2027-03-13 12:00 UTC, and is told as current',
      )
    expect(takenBack(draft(), later(LIST.slice(0, 4)))).toContain('not in the list any more')
    expect(takenBack(draft(), later(LIST))).toBeNull()
    expect(takenBack(draft(LIST.slice(0, 2)), later(LIST))).toBeNull()
  })

  test('stands to a checker that was written from the document alone', () => {
    const said = verifyStanding(signed(), key.jwks(), NOW)
    expect(said.certificates).toHaveLength(LIST.length)
    expect(() => verifyStanding(signed(draft(), stranger), key.jwks(), NOW)).toThrow()
    expect(() => verifyStanding(signedWith(stranger, partsToSign(draft(), key.kid)), key.jwks(), NOW)).toThrow()
  })

  test('by a stranger, by a stranger under the house’s name, and a certificate in its place are refused', async () => {
    expect(await check(signed(draft(), stranger))).toMatchObject({
      outcome: 'broken',
      words: expect.stringContaining('none of those at hand'),
    })
    expect(await check(signedWith(stranger, partsToSign(draft(), key.kid)))).toMatchObject({ outcome: 'broken' })
    expect(await check(signed({ kind: 'tagstrip-certificate', version: 1 }))).toMatchObject({ outcome: 'broken' })
    expect(await checkStanding(signed(), [], async () => true, NOW)).toMatchObject({ outcome: 'unable' })
  })
})

describe('the house', () => {
  let stage: Stage
  beforeAll(() => {
    stage = openStage()
  })
  afterAll(() => stage.close())

  function get(path: string) {
    const match = matchAddress(ADDRESSES, path)
    const answer = match?.address.answer(stage.sight(), match.params, new URLSearchParams())
    return answer ? JSON.parse(String(answer.body)) : null
  }
  /** By node:crypto and nothing of ours: the signature, and then what was signed. */
  function believed(file: Record<string, string>) {
    const [jwk] = stage.sight().keys.jwks().keys
    const publicKey = createPublicKey({ key: jwk as never, format: 'jwk' })
    const bytes = Buffer.from(`${file.protected}.${file.payload}`)
    expect(verify(null, bytes, publicKey, Buffer.from(file.signature ?? '', 'base64url'))).toBe(true)
    return JSON.parse(Buffer.from(file.payload ?? '', 'base64url').toString())
  }

  test('signs how each certificate stands, at an address of its own and in one list, and says it anew when it changes', async () => {
    const { unitId, tag } = await makeTestedUnit(stage)
    const serial = String(stage.db.$client.prepare('SELECT serial FROM certificate').pluck().get())
    const document = createHash('sha256').update(Buffer.from('p', 'base64url')).digest('hex')
    const before = believed(get(`/certificates/${serial}/status.json`))
    expect(before).toMatchObject({ covers: 'one', certificates: [{ serial, unit: tag, is: 'current', document }] })
    expect(Date.parse(before.until) - Date.parse(before.saidAt)).toBe(DAY)

    stage.clock.pass(HOUR)
    const maker = await stage.as('maker')
    await maker.bringup.setAside({ tag, reason: 'Something rattles.' })
    stage.clock.pass(HOUR)
    await certify(stage, unitId)
    const after = believed(get('/certificates.json'))
    expect(after.covers).toBe('all')
    const [first, second] = after.certificates
    expect(first).toMatchObject({ serial, is: 'withdrawn', reason: `${tag} was set aside: Something rattles.`, by: second.serial })
    expect(second).toMatchObject({ unit: tag, is: 'current' })
    expect(believed(get(`/certificates/${serial.toLowerCase()}/status.json`)).certificates).toEqual([first])
    expect(get('/certificates/TS-2027-9999-X/status.json')).toBeNull()
  })
})
