import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readMinutes, sayMinutes } from '#bench/spent/minutes.rules'
import { minutesOf, type Stamp, stretchesOf } from '#bench/spent/sessions.rules'
import { HOUR, MINUTE } from '#kernel/instant'
import { medianOf } from '#kernel/spread'

const COUNTING = { pauseMinutes: 30, leadMinutes: 5 }
const stamp = (minute: number, unitId = 'TERN-01', personId = 'Wilma'): Stamp => ({ unitId, personId, at: 10 * HOUR + minute * MINUTE })
const hours = (stamps: readonly Stamp[], counting = COUNTING) =>
  stretchesOf(stamps, counting).map(({ unitId, personId, from, to }) => [
    unitId,
    personId,
    (from - 10 * HOUR) / MINUTE,
    (to - 10 * HOUR) / MINUTE,
  ])

test('work begins a little before its first note and lasts to its last', () => {
  expect(hours([stamp(0), stamp(20), stamp(45)])).toEqual([['TERN-01', 'Wilma', -5, 45]])
})

test('a gap as long as the pause is work, a longer one parts two sessions', () => {
  expect(hours([stamp(0), stamp(30)])).toEqual([['TERN-01', 'Wilma', -5, 30]])
  const longer = [stamp(0), { ...stamp(30), at: stamp(30).at + 1 }]
  expect(minutesOf(stretchesOf(longer, COUNTING))).toBe(10)
})

test('a soak that runs over night is nobody’s work', () => {
  expect(minutesOf(stretchesOf([stamp(0), stamp(24 * 60)], COUNTING))).toBe(10)
})

test('time between two machines belongs to the one on which the next note was made, and counts once', () => {
  expect(hours([stamp(0), stamp(10, 'TERN-02'), stamp(25)])).toEqual([
    ['TERN-01', 'Wilma', -5, 0],
    ['TERN-02', 'Wilma', 0, 10],
    ['TERN-01', 'Wilma', 10, 25],
  ])
})

test('two people at one machine count both', () => {
  const together = [stamp(0), stamp(20), stamp(5, 'TERN-01', 'Oskar'), stamp(20, 'TERN-01', 'Oskar')]
  expect(minutesOf(stretchesOf(together, COUNTING))).toBe(25 + 20)
})

test('notes of one instant are one, and a single one is the time before it', () => {
  expect(hours([stamp(0), stamp(0), stamp(0)])).toEqual([['TERN-01', 'Wilma', -5, 0]])
  expect(hours([stamp(0)], { pauseMinutes: 30, leadMinutes: 0 })).toEqual([])
})

test('nobody works two minutes in one, in whatever order notes come, and a longer pause never makes fewer hours', () => {
  const stamps = fc.array(
    fc.record({ minute: fc.integer({ min: 0, max: 2000 }), unit: fc.constantFrom('A', 'B', 'C'), person: fc.constantFrom('W', 'O') }),
    { maxLength: 60 },
  )
  fc.assert(
    fc.property(stamps, fc.integer({ min: 5, max: 120 }), (rows, pauseMinutes) => {
      const all = rows.map(({ minute, unit, person }) => stamp(minute, unit, person))
      const found = stretchesOf(all, { pauseMinutes, leadMinutes: 5 })
      for (const person of ['W', 'O']) {
        const own = found.filter(({ personId }) => personId === person)
        for (const [index, { from }] of own.entries()) expect(from).toBeGreaterThanOrEqual(own[index - 1]?.to ?? 0)
      }
      expect(minutesOf(stretchesOf([...all].reverse(), { pauseMinutes, leadMinutes: 5 }))).toBe(minutesOf(found))
      expect(minutesOf(stretchesOf(all, { pauseMinutes: pauseMinutes + 30, leadMinutes: 5 }))).toBeGreaterThanOrEqual(minutesOf(found))
    }),
  )
})

test('the middle of what machines took', () => {
  expect([medianOf([]), medianOf([90]), medianOf([300, 60, 90]), medianOf([60, 90, 95, 300])]).toEqual([null, 90, 90, 93])
})

test.each([
  ['1:30', 90],
  ['2 h 15', 135],
  ['2h15min', 135],
  ['3 h', 180],
  ['2.5 h', 150],
  ['2,25 h', 135],
  ['45 min', 45],
  ['45m', 45],
  ['0:00', null],
  ['45', null],
  ['1:75', null],
  ['-2 h', null],
  ['soon', null],
])('%s is read as %s minutes', (typed, minutes) => {
  expect(readMinutes(typed)).toBe(minutes)
})

test('what is said of minutes is read as the same', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 59_999 }), (minutes) => {
      expect(readMinutes(sayMinutes(minutes))).toBe(minutes)
    }),
  )
  expect([sayMinutes(0), sayMinutes(-90)]).toEqual(['0 min', '−1 h 30 min'])
})
