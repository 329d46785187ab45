import { beforeAll, expect, test } from 'vitest'
import { planDay, roomOf, whyNot } from '#sale/planning/plan.rules'
import { openPlanSolver } from '#sale/planning/plan-solver'
import type { PlanNews } from '#sale/planning/planning.contract'
import { bestPlan } from '#sale/planning/search.rules'
import type { Solve } from '#sale/planning/solved.rules'
import { closing, question, wish } from './question'

let solve: Solve
beforeAll(async () => {
  solve = await openPlanSolver()
})

const rising = (length: number, most: number) => Array.from({ length }, (_, slot) => Math.round((most * slot) / (length - 1)))
const planned = (asked: ReturnType<typeof question>) => bestPlan(asked, asked.wishes, solve, '')?.plan.at

test('two closings keep the minutes before and after to themselves', () => {
  // Both are worth most at the last slot; one gives way by five steps.
  expect(planned(question([closing(1, rising(13, 100)), closing(2, rising(13, 1000))]))).toEqual([7, 12])
})

test('a closing keeps clear of a break, before and after it', () => {
  const asked = question([closing(1, rising(13, 1000))], { taken: [{ from: 9, to: 13 }] })
  expect(planned(asked)).toEqual([6])
})

test('what was announced never moves earlier', () => {
  const falling = rising(13, 1000).reverse()
  expect(planned(question([closing(1, falling)]))).toEqual([2])
  expect(planned(question([closing(1, falling, { earliest: 8 })]))).toEqual([8])
})

test('like units are kept apart', () => {
  const pair = ['a', 'a'].map((design, n) => closing(n + 1, rising(25, 100 * (n + 1)), { design }))
  expect(planned(question(pair))).toEqual([19, 24])
  expect(planned(question(pair, { likeApart: 12 }))).toEqual([12, 24])
})

test('the best lot stands near its place in the day', () => {
  const flat = Array.from({ length: 21 }, () => 100)
  expect(planned(question([closing(1, flat)], { best: { share: 0.7, perStepMinor: 5 } }))).toEqual([14])
})

test('the dearest lot is not the first when that is asked', () => {
  const early = [10, 10, 9000, 10, 10, 10, 10, 50, 10, 10, 10]
  const pair = [
    closing(1, early),
    closing(
      2,
      early.map((value) => value / 10),
    ),
  ]
  expect(planned(question(pair))).toEqual([2, 7])
  expect(planned(question(pair, { wishes: [wish(1, { kind: 'not-first' })] }))).toEqual([7, 2])
})

test('a lot that is wished last comes last', () => {
  const trio = [1, 2, 3].map((lot) => closing(lot, rising(25, 100 * lot)))
  expect(planned(question(trio))).toEqual([14, 19, 24])
  expect(planned(question(trio, { wishes: [wish(1, { kind: 'last' })] }))?.[0]).toBe(24)
})

test('a wish is kept while it costs less than its weight, and not when it costs more', () => {
  const alone = (weightMinor: number) =>
    question([closing(1, rising(11, 1000))], { wishes: [wish(1, { from: 4, to: 5, isPin: false, weightMinor })] })
  expect(planned(alone(501))).toEqual([5])
  expect(planned(alone(499))).toEqual([10])
})

test('what each wish costs is the difference that it makes, and is told after the plan', () => {
  const news: PlanNews[] = []
  const asked = question([closing(1, rising(11, 1000))], {
    wishes: [wish(1, { id: 'guest', from: 4, to: 5 }), wish(1, { id: 'late', from: 10, to: 10, isPin: false, weightMinor: 1 })],
  })
  const answer = planDay(asked, solve, { tell: (one) => news.push(one), seconds: () => 0 })
  expect(answer).toMatchObject({
    fits: true,
    plan: { at: [5], expectedMinor: 500, keptWishes: ['guest'] },
    prices: [
      // Without it the other would be kept as well, which weighs one.
      { wish: 'guest', kept: true, costMinor: 501, shareBp: 10_020 },
      // Keeping both cannot be, and that is said.
      { wish: 'late', kept: false, costMinor: null, shareBp: 0 },
    ],
  })
  expect(news.map(({ stage }) => stage)).toEqual(['searching', 'planned', 'priced', 'priced'])
  expect(news[1]).toMatchObject({ worthMinor: 500, boundMinor: 500 })
})

test('a wish for an order that costs more than it weighs is not kept, and one that costs less is', () => {
  const trio = [1, 2, 3].map((lot) => closing(lot, rising(25, 100 * lot)))
  const wished = (weightMinor: number) => {
    const asked = question(trio, { wishes: [wish(1, { id: 'last', kind: 'last', isPin: false, weightMinor })] })
    const best = bestPlan(asked, asked.wishes, solve, '')
    return [best?.plan.keptWishes.length, best?.bound === best?.worth]
  }
  expect(wished(10)).toEqual([0, true])
  expect(wished(1000)).toEqual([1, true])
})

test('a program whose time ran out has its bound told with the plan, or says that there is none', async () => {
  const none = await openPlanSolver(0)
  const flat = Array.from({ length: 13 }, () => 100)
  expect(() => bestPlan(question([closing(1, flat)]), [], none, 'a day')).toThrow('Time limit reached')
  const half: Solve = (lp, label) => {
    const solved = solve(lp, label)
    return solved && { ...solved, bound: solved.objective + 50 }
  }
  expect(bestPlan(question([closing(1, flat)]), [], half, '')).toMatchObject({ worth: 100, bound: 150 })
})

test('when nothing fits, the pins named are those from which none can be left out', () => {
  const trio = [1, 2, 3].map((lot) => closing(lot, rising(25, 100)))
  const pins = [
    wish(1, { id: 'one', from: 10, to: 10 }),
    wish(2, { id: 'two', from: 12, to: 13 }),
    wish(3, { id: 'three', from: 20, to: 24 }),
  ]
  const asked = question(trio, { wishes: pins })
  expect(planDay(asked, solve, { tell: () => {}, seconds: () => 0 })).toMatchObject({ fits: false, together: ['one', 'two'], seconds: 0 })
})

test('a wish is refused only where it costs more than it may, by the sum that the plan is made by', () => {
  // Keeping it takes 40 of the money and 100 more from the place of the best lot.
  const value = rising(11, 1000).map((one) => Math.max(one, 960))
  const asked = (weightMinor: number) =>
    question([closing(1, value)], {
      wishes: [wish(1, { id: 'early', from: 2, to: 5, isPin: false, weightMinor })],
      best: { share: 1, perStepMinor: 20 },
    })
  for (const weightMinor of [50, 100, 130, 139, 141, 200]) {
    const answer = planDay(asked(weightMinor), solve, { tell: () => {}, seconds: () => 0 })
    const price = answer.fits ? answer.prices[0] : null
    expect([weightMinor, price?.kept]).toEqual([weightMinor, (price?.costMinor ?? 0) <= weightMinor])
    expect(price?.costMinor).toBe(140)
  }
})

test('pins that cannot be kept together name the rules that could give way, each with what it would have to become', () => {
  const pair = [1, 2].map((lot) => closing(lot, rising(25, 100), { design: 'a' }))
  const pins = [wish(1, { id: 'one', from: 10, to: 11 }), wish(2, { id: 'two', from: 15, to: 18 })]
  const answer = planDay(question(pair, { wishes: pins, likeApart: 10 }), solve, { tell: () => {}, seconds: () => 0 })
  expect(answer).toMatchObject({
    fits: false,
    ways: [
      { rule: 'like-apart', steps: 8 },
      { rule: 'earlier', wish: 'one', steps: 2 },
      { rule: 'longer', wish: 'two', steps: 2 },
    ],
  })
})

test('when the closings alone are too many, no pin is blamed and the room is said', () => {
  const four = [1, 2, 3, 4].map((lot) => closing(lot, rising(13, 100)))
  const asked = question(four, { wishes: [wish(1, { from: 0, to: 12 })] })
  expect(whyNot(asked, solve)).toEqual([])
  expect(roomOf(asked)).toEqual({ needed: 20, there: 15 })
})

test('what cannot be better than a plan that is known is not searched for', () => {
  const kept = wish(1, { from: 10, to: 12, isPin: false, weightMinor: 50 })
  const asked = question([closing(1, rising(13, 100)), closing(2, rising(13, 1000))], { wishes: [kept] })
  const known = new Map()
  let searched = 0
  const counted: Solve = (lp, label) => {
    if (lp.includes('Binary')) searched++
    return solve(lp, label)
  }
  const found = bestPlan(asked, [], counted, '', { cheapest: 1, known })
  expect([found?.plan.at, found?.worth, searched]).toEqual([[7, 12], 1058, searched])
  searched = 0
  // The wish weighs less than it would cost: the plan without it is the plan with it, and the costs prove it.
  expect(bestPlan(asked, [kept], counted, '', { cheapest: 1, known })).toMatchObject({ worth: 1058, bound: 1058, plan: { at: [7, 12] } })
  expect(searched).toBe(0)
})
