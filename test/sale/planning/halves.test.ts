import { expect, test } from 'vitest'
import { openPlanSolver } from '#sale/planning/plan-solver'
import { bestPlan } from '#sale/planning/search.rules'
import { randomDay } from '#test/benchmarks/random-days'

test('a tight day of sixteen is proved by halving it: in whole numbers only a few of the cheapest places are searched', {
  timeout: 60_000,
}, async () => {
  const asked = randomDay(16, 8)
  const solve = await openPlanSolver()
  let most = 0
  const found = bestPlan(
    asked,
    asked.wishes,
    (lp, label) => {
      if (lp.includes('\nBinary\n')) most = Math.max(most, new Set(lp.match(/x\d+_\d+/g)).size)
      return solve(lp, label)
    },
    '',
  )
  // The same as the solver in whole numbers proves on all of the places that matter.
  expect(found).toMatchObject({ worth: 496_173, bound: 496_173 })
  expect(most).toBeGreaterThan(0)
  expect(most).toBeLessThan(asked.closings.length * 12)
})
