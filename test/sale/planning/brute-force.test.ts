import fc from 'fast-check'
import { beforeAll, expect, test } from 'vitest'
import { faultIn, planOf } from '#sale/planning/model.rules'
import { placesOf } from '#sale/planning/places.rules'
import { whyNot } from '#sale/planning/plan.rules'
import { openPlanSolver } from '#sale/planning/plan-solver'
import type { PlanQuestion, Slot, Wish } from '#sale/planning/planning.contract'
import { bestPlan } from '#sale/planning/search.rules'
import type { Solve } from '#sale/planning/solved.rules'
import { worthByOrder } from './by-order'
import { closing, question, wish } from './question'

let solve: Solve
beforeAll(async () => {
  solve = await openPlanSolver()
})

const SLOTS = 11
const slot = fc.integer({ min: 0, max: SLOTS })
const span = fc.tuple(slot, slot).map(([a, b]) => ({ from: Math.min(a, b), to: Math.max(a, b) }))

const anyWish = (lots: number): fc.Arbitrary<Wish> =>
  fc
    .record({
      lot: fc.integer({ min: 1, max: lots }),
      kind: fc.constantFrom('within' as const, 'within' as const, 'last' as const, 'not-first' as const),
      span,
      isPin: fc.boolean(),
      weightMinor: fc.integer({ min: 0, max: 300 }),
    })
    .map(({ span: hours, ...rest }) => wish(rest.lot, { ...rest, ...hours }))

/** Small days of up to three closings with everything that a day can have. */
const smallDay: fc.Arbitrary<PlanQuestion> = fc.integer({ min: 1, max: 3 }).chain((lots) =>
  fc
    .record({
      closings: fc.tuple(
        ...Array.from({ length: lots }, () =>
          fc.record({
            value: fc.array(fc.integer({ min: 0, max: 500 }), { minLength: SLOTS + 1, maxLength: SLOTS + 1 }),
            design: fc.constantFrom('a', 'b', null),
            before: fc.integer({ min: 0, max: 2 }),
            after: fc.integer({ min: 1, max: 3 }),
            earliest: fc.constantFrom(0, 0, 0, 4),
            barred: fc.array(span, { maxLength: 1 }),
            riseMinor: fc.integer({ min: -60, max: 60 }),
          }),
        ),
      ),
      taken: fc.array(span, { maxLength: 1 }),
      announced: fc.array(slot, { maxLength: 2 }),
      wishes: fc.array(anyWish(lots), { maxLength: 4 }),
      likeApart: fc.integer({ min: 0, max: 6 }),
      mostAnHour: fc.constantFrom(0, 1, 2),
      silence: fc.constantFrom(null, { from: 0, longest: 4, perStepMinor: 30 }, { from: 3, longest: 6, perStepMinor: 200 }),
      bestApart: fc.constantFrom(
        null,
        { lots: [1, 2], apart: 5, perStepMinor: 40, nextMinor: 0 },
        { lots: [1, 2], apart: 0, perStepMinor: 0, nextMinor: 300 },
        { lots: [1, 2, 3], apart: 3, perStepMinor: 7, nextMinor: 90 },
      ),
      best: fc.constantFrom(null, { share: 0.7, perStepMinor: 20 }),
    })
    .map(({ closings, wishes, ...rest }) =>
      question(
        closings.map(({ value, ...change }, index) => closing(index + 1, value, change)),
        { ...rest, wishes: wishes.map((one, index) => ({ ...one, id: `w${index}` })) },
      ),
    ),
)

/** Every assignment of slots, one by one. */
function bestByTrying(asked: PlanQuestion): number | null {
  let best: number | null = null
  const walk = (at: Slot[]) => {
    if (at.length === asked.closings.length) {
      if (faultIn(asked, at, asked.wishes) !== null) return
      const { worth } = planOf(asked, at, asked.wishes)
      if (best === null || worth > best) best = worth
      return
    }
    for (let one = 0; one <= asked.slots; one++) walk([...at, one])
  }
  walk([])
  return best
}

const RUNS = Number(process.env.PLAN_RUNS ?? 250)

test('on small days the plan is worth what the best of all plans is worth', { timeout: 60_000 + RUNS * 100 }, () => {
  fc.assert(
    fc.property(smallDay, (asked) => {
      expect(bestPlan(asked, asked.wishes, solve, '')?.worth ?? null).toBe(bestByTrying(asked))
    }),
    { numRuns: RUNS },
  )
})

test('with only the cheapest places at first it is the same plan, proved by the costs or with more let in', {
  timeout: 60_000 + RUNS * 100,
}, () => {
  let left = 0
  fc.assert(
    fc.property(smallDay, (asked) => {
      const places = placesOf(asked, asked.wishes).flat().length
      if (places > 4) left++
      const known = new Map()
      expect(bestPlan(asked, asked.wishes, solve, '', { cheapest: 4, known })?.worth ?? null).toBe(bestByTrying(asked))
      // A price starts from what was found already: without one wish, and with one as a pin.
      const [first] = asked.wishes
      if (!first) return
      for (const wishes of [asked.wishes.slice(1), [...asked.wishes.slice(1), { ...first, isPin: true }]])
        expect(bestPlan(asked, wishes, solve, '', { cheapest: 4, known })?.worth ?? null).toBe(bestByTrying({ ...asked, wishes }))
    }),
    { numRuns: RUNS },
  )
  expect(left).toBeGreaterThan(RUNS / 2)
})

test('a day whose best plan the solver’s presolve lost keeps it', () => {
  const flat = Array.from({ length: SLOTS + 1 }, () => 0)
  const asked = question(
    [
      closing(1, flat, { design: 'a', before: 0, after: 2 }),
      closing(2, flat, { design: 'a', before: 0, after: 1 }),
      closing(3, flat.with(SLOTS, 1), { design: 'a', before: 0, after: 1 }),
    ],
    {
      taken: [{ from: 4, to: 5 }],
      announced: [4],
      wishes: [wish(1, { kind: 'last', isPin: true }), wish(2, { from: 2, to: 2, isPin: false, weightMinor: 1 })],
      best: { share: 0.7, perStepMinor: 20 },
    },
  )
  expect(bestByTrying(asked)).toBe(-5)
  expect(bestPlan(asked, asked.wishes, solve, '')?.worth).toBe(-5)
})

test('a day for which the solver’s presolve claimed a plan that cannot be is told why not', () => {
  const flat = Array.from({ length: SLOTS + 1 }, () => 0)
  const pin = (id: string, change: Partial<Wish>) => ({ ...wish(1, { isPin: true, ...change }), id })
  const asked = question([closing(1, flat, { design: 'a', before: 1, after: 2 }), closing(2, flat, { design: 'a', before: 1, after: 3 })], {
    announced: [4],
    wishes: [pin('early', { from: 0, to: 5 }), pin('at six', { from: 6, to: 6 }), pin('behind', { kind: 'not-first' })],
  })
  expect(whyNot(asked, solve)).toEqual(['early', 'at six'])
})

test('pins named as standing in the way do so together, and any one less lets a plan be', { timeout: 60_000 + RUNS * 100 }, () => {
  fc.assert(
    fc.property(smallDay, (asked) => {
      const pinned = { ...asked, wishes: asked.wishes.map((one) => ({ ...one, isPin: true })) }
      fc.pre(bestByTrying(pinned) === null)
      const together = whyNot(pinned, solve)
      const only = (ids: readonly string[]) => ({ ...pinned, wishes: pinned.wishes.filter(({ id }) => ids.includes(id)) })
      expect(bestByTrying(only(together))).toBeNull()
      for (const left of together) expect(bestByTrying(only(together.filter((id) => id !== left)))).not.toBeNull()
    }),
    { numRuns: Math.ceil(RUNS / 10) },
  )
})

test('a program that says for each pair which comes first finds the same worth', { timeout: 60_000 + RUNS * 100 }, () => {
  fc.assert(
    fc.property(smallDay, (drawn) => {
      // That program knows no rhythm.
      const closings = drawn.closings.map((one) => ({ ...one, riseMinor: 0 }))
      const asked = { ...drawn, closings, mostAnHour: 0, silence: null, bestApart: null }
      expect(worthByOrder(asked, solve)).toBe(bestPlan(asked, asked.wishes, solve, '')?.worth ?? null)
    }),
    { numRuns: Math.ceil(RUNS / 2) },
  )
})
