import { expect, test } from 'vitest'
import { planDay } from '#sale/planning/plan.rules'
import { openPlanSolver } from '#sale/planning/plan-solver'
import { bestPlan } from '#sale/planning/search.rules'
import { print } from './open-house'
import { randomDay } from './random-days'

// How long exact plans take, in seconds of the processor, and as a multiple of a day of three lots in the same run.
const DAYS = Number(process.env.PLAN_DAYS ?? 12)

/** Seconds of the processor, so that whatever else the machine does is not counted. */
const secondsOf = (work: () => void): number => {
  const began = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(began)
  return (user + system) / 1e6
}

test('the plan of a day', { timeout: 900_000 }, async () => {
  const solve = await openPlanSolver()
  const plan = (lots: number, seed: number) => {
    const asked = randomDay(lots, seed)
    return secondsOf(() => {
      const found = bestPlan(asked, asked.wishes, solve, '')
      // Not every drawn day fits; one that does is planned with its proof.
      if (found) expect(found.bound).toBe(found.worth)
    })
  }
  const prices = (lots: number, seed: number) =>
    secondsOf(() => {
      planDay(randomDay(lots, seed), solve, { tell: () => {}, seconds: () => 0 })
    })
  const many = (work: (seed: number) => number) => Array.from({ length: DAYS }, (_, index) => work(index + 1)).sort((a, b) => a - b)
  plan(16, 1)
  const three = many((seed) => plan(3, seed))[Math.floor(DAYS / 2)] ?? 0
  const rows: [string, number[], number][] = [
    ['16 lots, two wished last, one not the first', many((seed) => plan(16, seed)), 1],
    ['40 lots, two wished last, one not the first', many((seed) => plan(40, seed)), 5],
    ['40 lots, with the prices of ten wishes', many((seed) => prices(40, seed)).slice(0, DAYS), 10],
  ]
  print('| measure | this run, middle | worst | times a day of three | goal |')
  print('| --- | --- | --- | --- | --- |')
  for (const [words, took, goal] of rows) {
    const [middle, worst] = [took[Math.floor(took.length / 2)] ?? 0, took.at(-1) ?? 0]
    print(`| ${words} | ${middle.toFixed(2)} s | ${worst.toFixed(2)} s | ${(middle / three).toFixed(0)} | under ${goal} s |`)
  }
})
