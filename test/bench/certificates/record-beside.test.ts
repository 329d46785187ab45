import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { publicRecord, recordForMachines } from '#bench/certificates/public-record.rules'
import { DAY } from '#kernel/instant'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS, withCheck } from '#test/make/unit-facts'

/** A unit's record for machines, held against the certificate that is chosen with it: by the checking page and by the program for Node. */

const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
const house = aKey(thumbprintOf(xOf(aKey('any'))))
const keys = (() => {
  const read = readKeySet(house.jwks())
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
})()
const unit = aUnit()
const certificate = draftCertificate({
  unit,
  issuer: anIssuer,
  serial: 'TS-2027-0147-M',
  issuedAt: BENCH_OPENS + 10 * DAY,
  home: 'https://longbench.example',
})
const signed = (document: object) => signedWith(house, partsToSign(document, house.kid))
const own = signed(certificate)
const file = (name: string, content: unknown) => ({ name, bytes: new TextEncoder().encode(JSON.stringify(content)) })
const check = (...files: ReturnType<typeof file>[]) => checkChosen(files, keys)

const folder = mkdtempSync(join(tmpdir(), 'tagstrip-record-'))
afterAll(() => rmSync(folder, { recursive: true }))
const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')
function byProgram(signedFile: object, record: object) {
  const names = Object.entries({ jwks: house.jwks(), certificate: signedFile, record }).map(([name, content]) => {
    writeFileSync(join(folder, `${name}.json`), JSON.stringify(content))
    return join(folder, `${name}.json`)
  })
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...names], { encoding: 'utf8' })
  return { status, words: stdout + stderr }
}

describe('a record beside its certificate', () => {
  const record = (of = unit) =>
    JSON.parse(JSON.stringify(recordForMachines(publicRecord(of, true, Date.parse(certificate.issuedAt)), certificate.serial)))
  /** As the page finds it; the program for Node has to find the same. */
  const compared = async (other: object, signedFile: object = own) => {
    const found = (await check(file('certificate.json', signedFile), file('record.json', other))).filter(
      ({ about }) => about === 'record.json',
    )
    const { status, words } = byProgram(signedFile, other)
    expect(status, words).toBe(found.some(({ tone }) => tone === 'bad') ? 1 : 0)
    return found
  }

  it('says the same, its sentence and its counts too', async () => {
    expect(await compared(record())).toMatchObject([{ tone: 'ok', title: 'It says the same as what was signed' }])
  })

  it.each<[string, (of: ReturnType<typeof record>) => void, RegExp]>([
    [
      'a soak that ran longer',
      (r) => Object.assign(r.results.at(-1), { soak: { hours: 96, coldStarts: 50, seen: 'observed' } }),
      /how long it ran/,
    ],
    ['a photograph', (r) => Object.assign(r.results[0], { photograph: 'ab'.repeat(32) }), /its photograph/],
    [
      'a sentence',
      (r) => Object.assign(r, { sentence: 'It passed all 14 checks with room to spare.' }),
      /The sentence about it all: signed as “It passed all 14/,
    ],
    ['how many checks there are', (r) => Object.assign(r, { checks: 40 }), /How many checks there are: signed as 14/],
    ['how many passed', (r) => Object.assign(r, { passed: 40 }), /How many passed: signed as 14/],
    ['how many passed within doubt', (r) => Object.assign(r, { within: 0 }), /within doubt: signed as 1/],
    ['what it proves', (r) => Object.assign(r, { proves: 'It proves that the machine is safe.' }), /What the signature proves/],
    ['when it was last read', (r) => Object.assign(r, { lastReadingAt: '2027-06-01T09:00:00.000Z' }), /When it was last read: signed as/],
    ['by which rule it passes', (r) => Object.assign(r, { decision: 'By eye.' }), /decision: signed as/i],
    ['a caution', (r) => Object.assign(r.design, { cautions: [] }), /cautions/i],
    ['its number', (r) => Object.assign(r, { number: 9 }), /Number: signed as/],
    ['what it was reworked for', (r) => Object.assign(r.reworks[0], { what: 'Nothing much.' }), /What was mended, entry 1/],
  ])('with %s changed says something else', async (_, change, words) => {
    const changed = record()
    change(changed)
    expect(await compared(changed)).toMatchObject([{ tone: 'bad', words: expect.stringMatching(words) }])
  })

  it('is not accused of what a certificate from before could not say', async () => {
    const results = certificate.results.map(({ photograph: _no, soak: _none, ...rest }) => rest)
    expect(await compared(record(), signed({ ...certificate, results }))).toMatchObject([{ tone: 'ok' }])
  })

  const later = Date.parse(certificate.issuedAt) + DAY
  const WHY = 'Corrected: a slip of the pen, the meter read 8.04.'
  const corrected = (change: object = {}) => {
    const signedAs = unit.checks.find(({ key }) => key === 'B6')?.current
    if (!signedAs) throw new Error('B6 was read')
    const { shown, verdict, takenAt } = signedAs
    const before = { check: 'B6', title: 'Regulated rail', shown, unit: 'V', verdict, takenAt, whyNotCurrent: WHY, ...change }
    const checks = withCheck(unit, 'B6', (one) => ({
      ...one,
      isReleased: false,
      current: one.current && { ...one.current, shown: '8.04', value: 8.04, takenAt: later },
    })).checks
    return { ...unit, checks, earlier: [...unit.earlier, before] }
  }

  it('that was corrected since is not called forged: what, when and why are said, and what that means', async () => {
    const [found, ...others] = await compared(record(corrected()))
    expect(others).toEqual([])
    expect(found).toMatchObject({ tone: 'doubt', title: 'It was corrected since it was signed, and says so' })
    expect(found?.words).toContain(`B6 Regulated rail: signed as 8.02 V, 8.04 V since 2027-03-12 09:00 UTC. ${WHY}`)
    expect(found?.words).toContain('The signature proves what was signed and nothing of what came later')
    expect(byProgram(own, record(corrected())).words).toContain(
      `was changed after ${certificate.serial} was signed, and says so. B6 Regulated rail: signed as 8.02, 8.04 since 2027-03-12T09:00:00.000Z. ${WHY}`,
    )
  })

  it('that was read again since says that', async () => {
    const [found] = await compared(record(corrected({ whyNotCurrent: 'Taken again.' })))
    expect(found).toMatchObject({ tone: 'doubt', title: 'It was read again in part since it was signed, and says so' })
  })

  it.each<[string, object, (of: ReturnType<typeof record>) => void]>([
    ['tells another reading as the signed one', { shown: '8.09' }, () => {}],
    ['tells no reason', { whyNotCurrent: 'So.' }, () => {}],
    ['changed something else as well', {}, (r) => Object.assign(r.results[2], { shown: '9' })],
    ['changed the title of the check as well', {}, (r) => Object.assign(r.results[5], { title: 'Another rail' })],
    ['changed its sentence as well', {}, (r) => Object.assign(r, { sentence: 'It is certified and safe.' })],
    [
      'invents an earlier failure',
      {},
      (r) => r.earlier.unshift({ ...r.earlier.at(-1), takenAt: '2027-01-01T09:00:00.000Z', verdict: 'fail' }),
    ],
  ])('that %s is not excused by a correction', async (_, told, change) => {
    const changed = record(corrected(told))
    change(changed)
    expect(await compared(changed)).toMatchObject([{ tone: 'bad' }])
  })

  it('that no certificate stands for, or that was set aside, says that', async () => {
    const tell = (of: typeof unit) => JSON.parse(JSON.stringify(recordForMachines(publicRecord(of, false), null)))
    for (const of of [unit, corrected(), { ...unit, setAside: 'Something rattles.' }])
      expect((await compared(tell(of)))[0]?.tone).not.toBe('bad')
    expect(await compared({ ...tell(unit), sentence: record().sentence })).toMatchObject([{ tone: 'bad' }])
  })

  it('for which no certificate stands does not say that a signature proves it, and is believed in that', async () => {
    for (const of of [unit, corrected()]) {
      const told = JSON.parse(JSON.stringify(recordForMachines(publicRecord(of, false), null)))
      expect(told.proves).toBe('No certificate stands for it now, so no signature proves anything of this record as it is.')
      expect((await compared(told))[0]?.tone).not.toBe('bad')
      const asBefore = await compared({ ...told, proves: certificate.proves })
      expect(asBefore[0]?.tone).toBe(of === unit ? 'ok' : 'bad')
    }
    expect(
      await compared({ ...record(), proves: 'No certificate stands for it now, so no signature proves anything of this record as it is.' }),
    ).toMatchObject([{ tone: 'bad' }])
  })

  it.each<[string, unknown]>([
    ['another serial', '/certificates/TS-2027-0148-K'],
    ['a number', 7],
    ['nothing', undefined],
  ])('that names %s as its certificate does not say the same, whatever its sentence is', async (_, named) => {
    const changed = { ...record(), certificate: named, sentence: 'It passed all and is safe.' }
    const found = await compared(changed)
    expect(found).toMatchObject([{ tone: 'doubt', title: 'It names another certificate than the one at hand' }])
    expect(byProgram(own, changed).words).toContain('In doubt: the record to compare names another certificate')
    expect(byProgram(own, changed).words).not.toContain('says the same')
  })

  it('does not say that it passed all, nor that it is unchanged since it was signed', () => {
    const told = record(corrected())
    expect(told.missing).toEqual([expect.stringContaining('B6 Regulated rail is a hold point that nobody has released')])
    expect(told.sentence).toBe(
      'All 14 checks have a current pass, one of them within doubt, but one reading was corrected or taken again after the certificate was signed, and one thing is missing for another certificate. It was reworked once and measured again.',
    )
    expect(told.proves).not.toContain('unchanged')
    expect(told.proves).toContain('nothing about the readings that were corrected')
    expect(record().sentence).toContain('It passed all 14 checks')
  })
})

describe('the faults and the evidence of a record beside its certificate', () => {
  const at = BENCH_OPENS + DAY
  const withFaults = aUnit({
    faults: [
      { check: 'B6', foundAt: at, closedAt: at + DAY, cause: 'joint' },
      { check: 'B9', foundAt: at + 2 * DAY, closedAt: null, cause: null },
    ],
    evidence: [{ check: 'B6', kind: 'sweep', name: 'sweep.csv', words: 'Input to output.', sha256: 'cd'.repeat(32), takenAt: at }],
  })
  const issuedAt = BENCH_OPENS + 10 * DAY
  const document = draftCertificate({
    unit: withFaults,
    issuer: anIssuer,
    serial: 'TS-2027-0147-M',
    issuedAt,
    home: 'https://longbench.example',
  })
  const ofIt = signed(document)
  const record = () => JSON.parse(JSON.stringify(recordForMachines(publicRecord(withFaults, true, issuedAt), document.serial)))
  type Told = ReturnType<typeof record>
  const both = async (other: object) => {
    const found = (await check(file('certificate.json', ofIt), file('record.json', other))).filter(({ about }) => about === 'record.json')
    const { status, words } = byProgram(ofIt, other)
    expect(status, words).toBe(found.some(({ tone }) => tone === 'bad') ? 1 : 0)
    return found
  }

  it.each<[string, (of: Told) => void]>([
    ['as it was signed', () => {}],
    ['with a fault closed since', (r) => Object.assign(r.faults[1], { closedAt: new Date(issuedAt + DAY).toISOString(), cause: 'part' })],
    ['with another fault found since', (r) => r.faults.push({ ...r.faults[1], foundAt: new Date(issuedAt + DAY).toISOString() })],
    ['with more evidence', (r) => r.evidence.push({ ...r.evidence[0], sha256: 'ef'.repeat(32) })],
  ])('%s says the same', async (_, change) => {
    const told = record()
    change(told)
    expect(await both(told)).toMatchObject([{ tone: 'ok' }])
  })

  it.each<[string, (of: Told) => void, RegExp]>([
    ['a fault hidden', (r) => r.faults.shift(), /found by B6 .* was signed and is missing/],
    ['all faults hidden', (r) => Object.assign(r, { faults: undefined }), /was signed and is missing/],
    ['another cause', (r) => Object.assign(r.faults[0], { cause: 'none' }), /signed as closed, joint, the record says closed, no fault/],
    [
      'an open fault closed before it was signed',
      (r) => Object.assign(r.faults[1], { closedAt: new Date(at + 3 * DAY).toISOString(), cause: 'none' }),
      /signed as open/,
    ],
    ['a fault from before put in', (r) => r.faults.push({ ...r.faults[0], check: 'B7' }), /was not signed/],
    ['evidence hidden', (r) => r.evidence.pop(), /does not show it any more/],
    ['other words beside evidence', (r) => Object.assign(r.evidence[0], { words: 'All well.' }), /something else of it than was signed/],
  ])('with %s says something else', async (_, change, words) => {
    const told = record()
    change(told)
    expect(await both(JSON.parse(JSON.stringify(told)))).toMatchObject([{ tone: 'bad', words: expect.stringMatching(words) }])
  })
})
