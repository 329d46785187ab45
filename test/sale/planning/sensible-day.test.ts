import { beforeAll, describe, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { seededChance } from '#kernel/seeded'
import { openPlanSolver } from '#sale/planning/plan-solver'
import { type DayFacts, DEFAULT_SETTINGS, questionOf, slotTime } from '#sale/planning/question.rules'
import { bestPlan } from '#sale/planning/search.rules'
import type { Solve } from '#sale/planning/solved.rules'
import { awakeShare } from '#sale/programme/awake.rules'

let solve: Solve
beforeAll(async () => {
  solve = await openPlanSolver()
})

const OPENS = Date.parse('2027-03-13T09:00:00Z')
const AUDIENCE = [
  { zone: 'Europe/London', shareBp: 5_000 },
  { zone: 'America/New_York', shareBp: 3_000 },
  { zone: 'Asia/Tokyo', shareBp: 2_000 },
]

/** A day of so many lots with the planner's own settings, and nobody's wish. */
function dayOf(lots: number, hours: number, seed: number): DayFacts {
  const chance = seededChance(seed)
  return {
    opensAt: OPENS,
    closesAt: OPENS + hours * HOUR,
    now: OPENS - HOUR,
    lots: Array.from({ length: lots }, (_, index) => ({
      number: index + 1,
      title: `Lot ${index + 1}`,
      design: `design ${Math.floor(chance() * Math.max(4, lots / 3))}`,
      likelyMinor: 2_000 + Math.floor(chance() * 300) * 100,
      announcedAt: null,
    })),
    items: [],
    audience: AUDIENCE,
    wishes: [],
    settings: DEFAULT_SETTINGS,
  }
}

describe.each([
  [4, 12],
  [16, 12],
  [40, 18],
])('%i lots over %i hours, without a single wish', (lots, hours) => {
  test.each([1, 2])(
    'make a day that one would sit through (%i)',
    (seed) => {
      const facts = dayOf(lots, hours, seed)
      const question = questionOf(facts)
      const found = bestPlan(question, [], solve, 'a day')
      if (!found) throw new Error('there is room')
      expect(found.bound).toBe(found.worth)
      const day = facts.lots.map((lot, index) => ({ ...lot, at: slotTime(OPENS, found.plan.at[index] ?? 0) })).sort((a, b) => a.at - b.at)
      const times = day.map(({ at }) => at)
      expect(Math.min(...times) - OPENS).toBeGreaterThanOrEqual(30 * MINUTE)
      expect(facts.closesAt - Math.max(...times)).toBeGreaterThanOrEqual(15 * MINUTE)

      // No longer silence than an hour and a half, or than so few lots can fill.
      const gaps = [OPENS, ...times, facts.closesAt].map((at, index, all) => at - (all[index - 1] ?? at))
      const longest = Math.max(90 * MINUTE, (1.25 * hours * HOUR) / (lots + 1))
      expect(Math.max(...gaps)).toBeLessThanOrEqual(longest + 20 * MINUTE)
      expect(Math.min(...gaps.slice(2, -1))).toBeGreaterThanOrEqual(25 * MINUTE)
      for (const at of times) expect(times.filter((other) => other >= at && other < at + HOUR).length).toBeLessThanOrEqual(3)

      const dearest = [...day].sort((a, b) => (b.likelyMinor ?? 0) - (a.likelyMinor ?? 0))
      const places = dearest.slice(0, 3).map((lot) => day.indexOf(lot))
      if (lots > 4) for (const one of places) expect(places.includes(one + 1)).toBe(false)
      // The best ones stand where more are awake, and later, than the rest.
      const mean = (some: readonly number[]) => some.reduce((sum, one) => sum + one, 0) / some.length
      const best = dearest.slice(0, Math.ceil(lots / 4))
      const awake = (some: typeof day) => mean(some.map(({ at }) => awakeShare(AUDIENCE, at)))
      expect(awake(best)).toBeGreaterThan(awake(day))
      expect(mean(best.map(({ at }) => at))).toBeGreaterThan(mean(times))
    },
    60_000,
  )
})

test.each([
  ['all awake alike', [{ zone: 'Etc/UTC', shareBp: 10_000 }], Date.parse('2027-03-13T10:00:00Z'), 8],
  ['more and more awake', AUDIENCE, OPENS, 8],
])(
  'six lots, three of them ten times as dear as the others: none of the three next to another (%s)',
  (_, audience, opensAt, hours) => {
    const lots = [40_000, 38_000, 36_000, 3_000, 3_000, 3_000].map((likelyMinor, index) => ({
      number: index + 1,
      title: `Lot ${index + 1}`,
      design: null,
      likelyMinor,
      announcedAt: null,
    }))
    const times = { opensAt, closesAt: opensAt + hours * HOUR, now: opensAt - HOUR }
    const question = questionOf({ ...times, lots, items: [], audience, wishes: [], settings: DEFAULT_SETTINGS })
    const at = bestPlan(question, [], solve, 'a day')?.plan.at ?? []
    const order = lots.map((lot, index) => ({ isBest: lot.number <= 3, at: at[index] ?? 0 })).sort((a, b) => a.at - b.at)
    expect(order.map(({ isBest }, index) => isBest && order[index + 1]?.isBest)).not.toContain(true)
  },
  60_000,
)
