import { describe, expect, test } from 'vitest'
import { fiveAnswers, standingChip } from '#app/(public)/units/[tag]/answers.rules.ts'
import { mendedWords, tellingReadings, testedWords } from '#app/(public)/units/[tag]/record.rules.ts'
import { publicRecord } from '#bench/certificates/public-record.rules'
import type { UnitFacts } from '#bench/certificates/record.contract'
import { doubtShort, limitsShort, limitsWords, recordSentence, shownWithUnit } from '#bench/certificates/sentences.rules'
import type { FaultFound } from '#bench/faults/fault.contract'
import { aUnit, withCheck } from '#test/make/unit-facts'

const ZONE = 'Europe/London'
const at = (iso: string) => Date.parse(iso)

test.each([
  ['2027-03-11T10:00Z', '2027-03-11T10:59Z', 'Tested on 11 March 2027; the last reading is less than an hour old.'],
  ['2027-03-11T10:00Z', '2027-03-12T09:59Z', 'Tested on 11 March 2027; the last reading is less than a day old.'],
  ['2027-03-11T10:00Z', '2027-03-12T10:00Z', 'Tested on 11 March 2027; the last reading is a day old.'],
  ['2027-03-11T10:00Z', '2027-03-14T10:00Z', 'Tested on 11 March 2027; the last reading is 3 days old.'],
  ['2027-03-11T10:00Z', '2027-06-11T10:00Z', 'Tested on 11 March 2027; the last reading is 3 months old.'],
])('a reading of %s read at %s: %s', (taken, now, words) => {
  expect(testedWords(at(taken), at(taken), at(now), ZONE)).toBe(words)
})

test('days are those of the stream: half past midnight in summer London is still the day before in UTC', () => {
  expect(testedWords(at('2027-07-01T23:30Z'), at('2027-07-03T12:00Z'), at('2027-07-03T12:30Z'), ZONE)).toBe(
    'Tested from 2 July 2027 to 3 July 2027; the last reading is less than an hour old.',
  )
})

test('the verdict on a record never says more than the record', () => {
  const record = { checks: 29, passed: 29, within: 0, failed: 0, reworks: 0, isCertified: true }
  expect(recordSentence(record)).toBe('It passed all 29 checks.')
  expect(recordSentence({ ...record, within: 1, reworks: 2 })).toBe(
    'It passed all 29 checks, one of them within doubt. It was reworked 2 times and measured again.',
  )
  expect(recordSentence({ ...record, isCertified: false })).toBe('It passed all 29 checks, but no certificate stands for it now.')
  expect(recordSentence({ ...record, passed: 12, isCertified: false })).toBe('Not finished: 12 of 29 checks have a current pass.')
  expect(recordSentence({ ...record, passed: 12, failed: 1, isCertified: false })).toBe('Not ready: one check fails, 12 of 29 pass.')
})

test('limits read as people say them, and open sides as what they are', () => {
  expect(limitsWords({ lower: 7.7, upper: 8.3, unit: 'V' })).toBe('7.7 to 8.3 V')
  expect(limitsWords({ lower: null, upper: 5, unit: 'µV' })).toBe('at most 5 µV')
  expect(limitsWords({ lower: -57, upper: null, unit: 'dBm' })).toBe('at least −57 dBm')
  expect(limitsWords({ lower: 0, upper: 0, unit: 'faults' })).toBe('exactly 0 faults')
  expect(limitsShort({ lower: 6.345, upper: 6.365 })).toBe('6.345 – 6.365')
  expect(limitsShort({ lower: null, upper: null })).toBe('')
})

test('a reading stands in the unit of its check, with the decimals that its doubt allows', () => {
  expect(shownWithUnit({ shown: '8.02', unit: 'V' })).toBe('8.02 V')
  expect(shownWithUnit({ shown: '4980 mV', unit: 'V' })).toBe('4.980 V')
  expect(shownWithUnit({ shown: '0.0123 A', unit: 'mA', doubt: 0.49 })).toBe('12.3 mA')
  expect(shownWithUnit({ shown: '12.3456', unit: 'mA', doubt: 0.49 })).toBe('12.35 mA')
  expect(shownWithUnit({ shown: '5.2549', unit: 'V', doubt: 0.49, lower: 4.75, upper: 5.25 })).toBe('5.2549 V')
  expect(shownWithUnit({ shown: '0 faults in 24 h, 3 cold starts', unit: 'faults' })).toBe('0 faults in 24 h, 3 cold starts')
  expect(shownWithUnit({ shown: '-64.2', unit: 'dBm' })).toBe('−64.2 dBm')
  expect(shownWithUnit({ shown: 'yes', unit: null })).toBe('yes')
})

test.each([
  [0.0459, '0.046'],
  [0.05, '0.05'],
  [1.1, '1.1'],
  [12.34, '12'],
  [0, '0'],
  [0.00012, '0.00012'],
])('a doubt of %d is printed %s, with two digits at most (JCGM 100, 7.2.6)', (doubt, shown) => {
  expect(doubtShort(doubt)).toBe(shown)
})

test('what was mended is said in a line: the fault, what was done about it, and how often before', () => {
  const [rework] = aUnit().reworks
  if (!rework) throw new Error('the unit was reworked')
  const first = 'Mended on 1 March 2027: Core of coil T3 cracked. Coil T3 replaced.'
  expect(mendedWords({ reworks: [rework], faults: [] }, ZONE)).toBe(first)
  expect(mendedWords({ reworks: [rework, rework, rework], faults: [] }, ZONE)).toBe(`${first} It had been mended 2 times before.`)
  expect(mendedWords({ reworks: [{ ...rework, fault: null }], faults: [] }, ZONE)).toBe('Changed on 1 March 2027: Coil T3 replaced.')
  expect(mendedWords({ reworks: [], faults: [] }, ZONE)).toBe('No fault was found, and nothing was mended.')
})

test('a machine that had a fault never reads that none was found, and one whose reading was mistyped does', () => {
  const fault: FaultFound = { check: 'B6', foundAt: 1, closedAt: 2, cause: 'setting' }
  const open: FaultFound = { ...fault, closedAt: null, cause: null }
  const words = (...faults: FaultFound[]) => mendedWords({ reworks: [], faults }, ZONE)
  expect(words(fault)).toBe('A fault was found and put right without changing a part.')
  expect(words(open)).toBe('A fault was found and is not closed.')
  expect(words(fault, open)).toBe('2 faults were found; 1 of them is not closed.')
  expect(words({ ...fault, cause: 'none' })).toBe('No fault was found, and nothing was mended.')
})

test('the readings that tell most stand in the order given, and what was mended or is in doubt is never left out', () => {
  const keys = (record: Parameters<typeof tellingReadings>[0]) => tellingReadings(record, ['B9', 'B6', 'B1']).map(({ check }) => check)
  const record = publicRecord(aUnit(), true)
  expect(keys(record)).toEqual(['B9', 'B6', 'B17', 'B21'])
  const sound = withCheck(aUnit({ earlier: [] }), 'B17', (check) => ({
    ...check,
    current: check.current && { ...check.current, verdict: 'pass' },
  }))
  expect(keys(publicRecord(sound, true))).toEqual(['B9', 'B6'])
})

test('a reading taken while searching for a fault is no result of the record', () => {
  const unit = aUnit()
  const checks = unit.checks.map((check, index) =>
    index === 0 && check.current ? { ...check, current: { ...check.current, isWhileSearching: true } } : check,
  )
  const before = publicRecord(unit, false)
  const after = publicRecord({ ...unit, checks }, false)
  expect(after.results.map(({ check }) => check)).toEqual(before.results.slice(1).map(({ check }) => check))
  expect(after.passed).toBe(before.passed - 1)
})

describe('beside a certificate, the page of a machine', () => {
  const [issuedAt, later] = [at('2027-03-11T09:00Z'), at('2027-03-12T09:00Z')]
  const view = (unit: UnitFacts) => ({
    ...{ record: publicRecord(unit, true, issuedAt), standing: { serial: 'TS-2027-0147-M', issuedAt } },
    ...{ history: [], now: later, zone: ZONE },
  })
  const answers = (unit: UnitFacts) =>
    fiveAnswers(view(unit))
      .map(({ words }) => words)
      .join(' ')

  test('says that it is certified and unchanged where it is', () => {
    expect(standingChip(view(aUnit()))).toEqual({ tone: 'ok', words: 'Certified' })
    expect(answers(aUnit())).toContain('Signed as TS-2027-0147-M: it proves that this record is unchanged since it was signed')
  })

  test('says neither where a reading was corrected since, and what was corrected', () => {
    const unit = withCheck(aUnit(), 'B6', (check) => ({
      ...check,
      current: check.current && { ...check.current, shown: '8.04', value: 8.04, takenAt: later },
    }))
    const before = {
      check: 'B6',
      title: 'Regulated rail',
      shown: '8.02 V',
      unit: 'V',
      verdict: 'pass' as const,
      takenAt: at('2027-03-01T10:00Z'),
    }
    const corrected = { ...unit, earlier: [...unit.earlier, { ...before, whyNotCurrent: 'Corrected: a slip of the pen.' }] }
    expect(standingChip(view(corrected))).toEqual({ tone: 'doubt', words: 'Changed since certified' })
    expect(answers(corrected)).not.toMatch(/unchanged since it was signed/)
    expect(answers(corrected)).toContain(
      'On 12 March 2027 the reading of B6 Regulated rail, signed as 8.02 V, became 8.04 V. Corrected: a slip of the pen.',
    )
    expect(view(corrected).record.sentence).not.toContain('It passed all')
  })

  test('says that it is incomplete where a hold point is open', () => {
    const open = withCheck(aUnit(), 'B6', (check) => ({ ...check, isReleased: false }))
    expect(standingChip(view(open))).toEqual({ tone: 'doubt', words: 'Certified, now incomplete' })
    expect(view(open).record.sentence).not.toContain('It passed all')
  })
})
