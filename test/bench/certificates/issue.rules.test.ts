import { describe, expect, test } from 'vitest'
import { certificatePayload } from '#bench/certificates/certificates.contract'
import { checksForHome, draftCertificate, gapsBeforeIssue, nextSerial, serialOf } from '#bench/certificates/certificates.rules'
import { hasGoodCheckCharacter } from '#kernel/ids'
import { DAY } from '#kernel/instant'
import { anIssuer, aUnit, BENCH_OPENS, withCheck } from '#test/make/unit-facts'

const draft = (unit = aUnit()) =>
  draftCertificate({
    unit,
    issuer: anIssuer,
    serial: 'TS-2027-0147-M',
    issuedAt: BENCH_OPENS + 10 * DAY,
    home: 'https://longbench.example',
  })

const withReading = (change: object) =>
  withCheck(aUnit(), 'B21', (check) => ({ ...check, current: check.current && { ...check.current, ...change } }))

describe('a certificate may be issued', () => {
  test('when every check has a current pass, every hold point is released and nothing is quarantined', () => {
    expect(gapsBeforeIssue(aUnit())).toEqual([])
  })

  test('with a pass within doubt, which is shown as such', () => {
    const result = draft().results.find((one) => one.check === 'B17')
    expect(result?.verdict).toBe('pass within doubt')
  })
})

describe('a certificate may not be issued', () => {
  test.each([
    [
      'with a check not yet taken',
      withCheck(aUnit(), 'B21', (check) => ({ ...check, current: null })),
      'B21 Image rejection has no current reading. Take it.',
    ],
    ['with a failure', withReading({ verdict: 'fail' }), 'B21 Image rejection failed. Mend the fault and take it again.'],
    [
      'with a fail within doubt',
      withReading({ verdict: 'fail within doubt' }),
      'B21 Image rejection fails within its doubt, which may not be certified.',
    ],
    [
      'with a reading taken while searching',
      withReading({ isWhileSearching: true }),
      'B21 Image rejection was taken while searching for a fault. Take it again in its order.',
    ],
    [
      'with a hold point nobody released',
      withCheck(aUnit(), 'B6', (check) => ({ ...check, isReleased: false })),
      'B6 Regulated rail is a hold point that nobody has released.',
    ],
    [
      'with a piece from a quarantined batch',
      aUnit({ fitted: [{ designators: 'U2', part: 'Audio chip', batch: 'B-0031', sha256: null, isQuarantined: true }] }),
      'Audio chip at U2 is from a quarantined batch. Replace it, then test again.',
    ],
    ['while the unit is set aside', aUnit({ setAside: 'it smoked' }), 'The unit is set aside: it smoked'],
    ['with an empty position', aUnit({ unfitted: ['U2', 'R5'] }), 'Nothing is fitted at U2, R5. Fit the unit first.'],
    ['without any checklist', aUnit({ checks: [] }), 'The design has no checklist. Import one first.'],
  ])('%s, and it says so', (_why, unit, words) => {
    expect(gapsBeforeIssue(unit).map((gap) => gap.words)).toEqual([words])
    expect(() => draft(unit)).toThrow('a certificate is drafted only when nothing is missing')
  })
})

describe('serials', () => {
  test('carry a check character, so that a slip of the pen is found', () => {
    expect(serialOf(2027, 147)).toBe('TS-2027-0147-M')
    expect(hasGoodCheckCharacter('TS-2027-0147-M')).toBe(true)
    expect(hasGoodCheckCharacter('TS-2027-0174-M')).toBe(false)
    expect(hasGoodCheckCharacter('TS-2027-0148-M')).toBe(false)
  })

  test('count up within a year and start again with the next', () => {
    expect(nextSerial(2027, null)).toBe('TS-2027-0001-L')
    expect(nextSerial(2027, 'TS-2027-0001-L')).toBe('TS-2027-0002-J')
    expect(nextSerial(2028, null).startsWith('TS-2028-0001-')).toBe(true)
    expect(nextSerial(2027, 'TS-2027-9999-A').startsWith('TS-2027-10000-')).toBe(true)
  })

  test('pass over numbers whose check character would be an asterisk', () => {
    const starred = Array.from({ length: 400 }, (_, index) => index + 1).filter((number) => serialOf(2027, number) === null)
    expect(starred.length).toBeGreaterThan(0)
    for (const number of starred) {
      const before = `TS-2027-${String(number - 1).padStart(4, '0')}-X`
      expect(nextSerial(2027, before)).toBe(serialOf(2027, number + 1))
    }
  })
})

test('the document carries no name of a person who gave or tested, only where credits stand', () => {
  const payload = draft()
  expect(payload.links.credits).toBe('/units/TERN-03#given-by')
  expect(new Set(payload.results.map((result) => result.takenBy))).toEqual(new Set(['the maker']))
  expect(Object.keys(payload).filter((field) => /donor|gift|given/.test(field))).toEqual([])
})

test('at most five checks are offered for home, none that carries a caution', () => {
  const unit = withCheck(aUnit(), 'B6', (check) => ({ ...check, caution: 'Mains inside: competent people only.' }))
  const home = checksForHome(draft(unit).results)
  expect(home).toEqual(['B3', 'B4', 'B5', 'B1'])
  expect(draft().atHome).toEqual(['B3', 'B4', 'B5', 'B6', 'B1'])
})

test('limits printed are those that were in force when the reading was taken', () => {
  const unit = withCheck(aUnit(), 'B6', (check) => ({ ...check, lower: 7.9, upper: 8.1 }))
  expect(draft(unit).results.find((one) => one.check === 'B6')).toMatchObject({ lower: 7.7, upper: 8.3 })
})

test.each([
  ['results', []],
  ['serial', 'TS-2027-0147'],
  ['version', 2],
  ['donor', 'a name'],
  ['issuedAt', 'yesterday'],
])('a document whose %s is %j is not of this form', (field, value) => {
  expect(certificatePayload.safeParse({ ...draft(), [field]: value }).success).toBe(false)
})
