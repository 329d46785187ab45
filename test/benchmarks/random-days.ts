import { seededChance } from '#kernel/seeded'
import type { Closing, PlanQuestion, Wish } from '#sale/planning/planning.contract'
import { closing, question, wish } from '#test/sale/planning/question'

const HOURS = 14
const SLOTS = HOURS * 12

/**
 * A random day as a maker has one: lots of some designs with estimates a hundredfold apart, an audience that rises and falls,
 * a break, a guest's hours as pins, hours at a price, and wishes for an order.
 */
export function randomDay(lots: number, seed: number): PlanQuestion {
  const chance = seededChance(seed)
  const below = (most: number) => Math.floor(chance() * most)
  const peak = below(SLOTS)
  const awake = (slot: number) => 0.25 + 0.75 * Math.cos(((slot - peak) * Math.PI) / (2 * SLOTS)) ** 2
  const closings = Array.from({ length: lots }, (_, n) => {
    const estimate = 3_000 + below(60) * 1_000
    const value = Array.from({ length: SLOTS + 1 }, (_, slot) => Math.round(estimate * awake(slot)))
    const change = {
      before: 2,
      after: 2,
      design: `design ${below(5)}`,
      estimateMinor: estimate,
      riseMinor: Math.round((estimate - 33_000) / 20),
    }
    return closing(n + 1, value, change)
  })
  const someLot = () => 1 + below(lots)
  const hours = (isPin: boolean): Wish => {
    const from = below(SLOTS - 30)
    return wish(someLot(), { from, to: from + 18 + below(12), isPin, weightMinor: isPin ? 0 : 500 + below(4_000) })
  }
  const forOrder = (kind: 'last' | 'not-first') => wish(someLot(), { kind, isPin: false, weightMinor: 500 + below(4_000) })
  const wishes = [
    hours(true),
    hours(true),
    ...Array.from({ length: 5 }, () => hours(false)),
    forOrder('last'),
    forOrder('last'),
    forOrder('not-first'),
  ]
  const lunch = 60 + below(20)
  return question(closings, {
    taken: [{ from: lunch, to: lunch + 6 }],
    wishes: wishes.map((one, index) => ({ ...one, id: `w${index}` })),
    likeApart: lots > 20 ? 5 : 12,
    mostAnHour: 3,
    silence: { from: 0, longest: Math.max(18, Math.ceil((SLOTS / (lots + 1)) * 1.25)), perStepMinor: lots * 300 },
    bestApart: lots < 5 ? null : { lots: dearestOf(closings), apart: 19, perStepMinor: lots * 60, nextMinor: lots * 3_000 },
    best: { share: 0.7, perStepMinor: 100 },
  })
}

const dearestOf = (closings: readonly Closing[]): number[] =>
  [...closings]
    .sort((a, b) => b.estimateMinor - a.estimateMinor)
    .slice(0, 3)
    .map(({ lot }) => lot)
