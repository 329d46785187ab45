import { test } from 'vitest'
import { bestPlan } from '#sale/planning/plan.rules'
import { openPlanSolver } from '#sale/planning/plan-solver'
import type { PlanQuestion } from '#sale/planning/planning.contract'
import { closing, question, wish } from '#test/sale/planning/question'
import { print } from './open-house'

// How long the exact plan of a day takes, as a multiple of a day with three closings in the same run.
const HOURS = 14
const SLOTS = HOURS * 12

/** Lots of four designs in blocks of twenty minutes, an audience that rises and falls, wishes for every fifth lot. */
function day(lots: number): PlanQuestion {
  const awake = (slot: number) => 0.3 + 0.7 * Math.sin((Math.PI * slot) / SLOTS) ** 2
  const closings = Array.from({ length: lots }, (_, n) => {
    const estimate = 8_000 + ((n * 7919) % 40) * 1_000
    const value = Array.from({ length: SLOTS + 1 }, (_, slot) => Math.round(estimate * awake(slot)))
    return closing(n + 1, value, { before: 2, after: 2, design: `design ${n % 4}`, estimateMinor: estimate })
  })
  const wishes = closings
    .filter((_, n) => n % 5 === 0)
    .map(({ lot }) => wish(lot, { from: (lot * 37) % 120, to: ((lot * 37) % 120) + 24, isPin: false, weightMinor: 2_000 }))
  return question(closings, { wishes, likeApart: lots > 20 ? 5 : 12, best: { share: 0.7, perStepMinor: 100 } })
}

test('the plan of a day', { timeout: 300_000 }, async () => {
  const solve = await openPlanSolver()
  const seconds = (lots: number) => {
    const asked = day(lots)
    const began = performance.now()
    const found = bestPlan(asked, asked.wishes, solve, '')
    if (!found) throw new Error(`a day of ${lots} lots fits`)
    return (performance.now() - began) / 1000
  }
  seconds(3)
  const three = seconds(3)
  for (const lots of [12, 40]) {
    const took = seconds(lots)
    print(`${lots} lots over ${HOURS} hours, exactly: ${took.toFixed(2)} s, ${(took / three).toFixed(1)} times a day of three`)
  }
})
