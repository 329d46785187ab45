import { expect, test } from 'vitest'
import { usualFor } from '#app/(bench)/bench/units/[tag]/instrument-choice.tsx'
import { percent } from '#app/(bench)/bench/units/[tag]/live-gauge.tsx'
import { sayFollowing } from '#app/(public)/_lots/say-lot.rules.ts'
import { markOfDay } from '#sale/programme/change-words.rules'
import { sayRunsOn } from '#sale/programme/day-words.rules'

test('two lots in a row follow one and the other, and only more have a from and a to', () => {
  expect(sayFollowing([4])).toBe('Lot 4 follows.')
  expect(sayFollowing([4, 5])).toBe('Lots 4 and 5 follow.')
  expect(sayFollowing([4, 5, 6])).toBe('Lots 4 to 6 follow.')
})

test('a chance is never rounded to certainty, not even where it is that to the last digit', () => {
  expect([1, 0.9997, 0.5, 0.0002, 0].map(percent)).toEqual(['over 99.9 %', 'over 99.9 %', '50.0 %', 'under 0.1 %', 'under 0.1 %'])
})

test('which clocks run on while all are held', () => {
  expect(sayRunsOn([])).toBe('')
  expect(sayRunsOn([4])).toBe('Lot 4 is sold elsewhere, and its clock runs on.')
  expect(sayRunsOn([4, 7])).toBe('Lots 4 and 7 are sold elsewhere, and their clocks run on.')
})

test('a page that is open asks again when only the end of the stream has moved', () => {
  expect(markOfDay({ closesAt: 1, items: [] })).not.toBe(markOfDay({ closesAt: 2, items: [] }))
})

test('the instrument at hand is the one with the least doubt where the check is decided', () => {
  const one = (id: string, accuracy: string) => ({ id, name: id, accuracy, isOverdue: false }) as Parameters<typeof usualFor>[0][number]
  const all = [
    one('all', '±1 %'),
    one('meter', '600.0 mV ±(0.5 % + 2 digits); 6.000 V ±(0.5 % + 2 digits)'),
    one('generator', '10.00 µV ±(6 % + 2 digits)'),
  ]
  const check = { nominal: 2, lower: null, upper: 5, decimals: 0 }
  expect(usualFor(all, { ...check, unit: 'µV' })?.id).toBe('generator')
  expect(usualFor(all, { ...check, unit: 'V' })?.id).toBe('meter')
  expect(usualFor(all, { ...check, unit: 'Ω' })?.id).toBe('all')
})
