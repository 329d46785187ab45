import { expect, test } from 'vitest'
import type { Slot } from '#sale/planning/planning.contract'
import { rhythmPenalty } from '#sale/planning/rhythm.rules'
import { closing, question } from './question'

const SLOTS = 60
const flat = Array.from({ length: SLOTS + 1 }, () => 0)
const LOTS = [1, 2, 3, 4, 5]

/** What a day costs in which lots 1 to 3 are the best, and 4 and 5 the others. */
const costOf = (at: readonly Slot[], { nextMinor = 0, perStepMinor = 0, announced = [] as Slot[] }) =>
  rhythmPenalty(
    question(
      LOTS.map((lot) => closing(lot, flat)),
      { announced, bestApart: { lots: [1, 2, 3], apart: 12, perStepMinor, nextMinor } },
    ),
    at,
  )

test.each([
  { stand: 'at the beginning', at: [0, 7, 40, 20, 25] },
  { stand: 'in the middle', at: [20, 27, 50, 2, 7] },
  { stand: 'at the end', at: [SLOTS - 7, SLOTS, 20, 2, 7] },
])('two of the best five steps nearer than they should be cost five steps $stand', ({ at }) => {
  expect(costOf(at, { perStepMinor: 10 })).toBe(50)
})

test.each([
  { day: 'best, other, best, other, best', at: [0, 20, 40, 10, 30], pairs: 0 },
  { day: 'best, best, other, best, other', at: [0, 10, 30, 20, 40], pairs: 1 },
  { day: 'other, other, and the three best far apart', at: [20, 38, 57, 0, 5], pairs: 2 },
  { day: 'the same with one announced between two of them', at: [20, 38, 57, 0, 5], announced: [30], pairs: 1 },
])('$day: $pairs times two of the best with no other between', ({ at, announced = [], pairs }) => {
  expect(costOf(at, { nextMinor: 100, announced })).toBe(pairs * 100)
})
