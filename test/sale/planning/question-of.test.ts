import { expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { slotsOf } from '#sale/planning/places.rules'
import { type DayFacts, DEFAULT_SETTINGS, questionOf } from '#sale/planning/question.rules'

const OPENS = Date.parse('2027-03-13T13:00:00Z')
const facts = (more: Partial<DayFacts> = {}): DayFacts => ({
  opensAt: OPENS,
  closesAt: OPENS + 6 * HOUR,
  now: OPENS - HOUR,
  lots: [
    { number: 1, title: 'Receiver', design: 'receiver', likelyMinor: 10_000, announcedAt: OPENS + 91 * MINUTE },
    { number: 2, title: 'Receiver', design: 'receiver', likelyMinor: 10_000, announcedAt: null },
  ],
  items: [],
  audience: [{ zone: 'Europe/London', shareBp: 10_000 }],
  wishes: [],
  settings: { ...DEFAULT_SETTINGS, likeApartMinutes: 45 },
  ...more,
})

test('a like machine keeps its distance from one that was announced off the grid, before it and after it', () => {
  const question = questionOf(facts())
  const [two] = question.closings
  if (!two) throw new Error('lot 2 is to be planned')
  const minutes = slotsOf(question, two, []).map((slot) => slot * 5)
  for (const minute of minutes) expect(Math.abs(minute - 91)).toBeGreaterThanOrEqual(45)
  expect(minutes).toContain(45)
  expect(minutes).toContain(140)
})

test('the last closing leaves room for its extensions before the stream ends', () => {
  const question = questionOf(facts({ settings: { ...DEFAULT_SETTINGS, likeApartMinutes: 0, minutesAfter: 5, allowance: 20 } }))
  const [two] = question.closings
  if (!two) throw new Error('lot 2 is to be planned')
  expect(Math.max(...slotsOf(question, two, []).map((slot) => slot * 5))).toBe(6 * 60 - 25)
})
