import { invariant } from '#kernel/invariant'
import { faultIn, lpOf, planOf, slotsOf } from './model.rules'
import type { Plan, PlanAnswer, PlanNews, PlanQuestion, Slot, Wish, WishPrice } from './planning.contract'

/** What the solver answers: the variables that are not zero and the bound it proved; null when nothing fits. */
export interface Solved {
  values: ReadonlyMap<string, number>
  objective: number
}

export type Solve = (lp: string, label: string) => Solved | null

export interface Telling {
  tell(news: PlanNews): void
  /** Seconds since the planning began. */
  seconds(): number
}

/**
 * Plans the day exactly: the plan of most worth, its proved bound, and what each wish costs; or, when nothing fits,
 * wishes from which none can be left out. `solve` is an exact solver; all else is decided here.
 */
export function planDay(question: PlanQuestion, solve: Solve, { tell, seconds }: Telling): PlanAnswer {
  const { wishes } = question
  const best = bestPlan(question, wishes, solve, 'the plan')
  if (!best) return { fits: false, together: whyNot(question, solve), seconds: seconds() }
  const { plan, worth } = best
  // The solver proved the optimum, so the bound is the plan's own worth.
  tell({ stage: 'planned', plan, worthMinor: worth, boundMinor: worth })
  const prices: WishPrice[] = []
  for (const wish of wishes) {
    const price = priceOf(question, plan, wish, solve)
    if (!price) continue
    prices.push(price)
    tell({ stage: 'priced', price })
  }
  return { fits: true, plan, prices, seconds: seconds() }
}

/** The plan of most worth under these wishes, or null. */
export function bestPlan(
  question: PlanQuestion,
  wishes: readonly Wish[],
  solve: Solve,
  label: string,
): { plan: Plan; worth: number } | null {
  const solved = solve(lpOf(question, { wishes }), label)
  if (!solved) return null
  const at = question.closings.map((closing, index) => {
    const slot = slotsOf(question, closing, wishes).find((one) => (solved.values.get(`x${index}_${one}`) ?? 0) > 0.5)
    invariant(slot !== undefined, `the solver gave lot ${closing.lot} a slot`)
    return slot
  })
  const fault = faultIn(question, at, wishes)
  invariant(fault === null, `the solver's plan stands: ${fault}`)
  const { worth, ...plan } = planOf(question, at, wishes)
  invariant(Math.abs(worth - solved.objective) < 1, 'the solver counts as we do')
  return { plan, worth }
}

/** A kept wish costs what the day would raise more without it; one that is not kept, what keeping it would take away. */
function priceOf(question: PlanQuestion, plan: Plan, wish: Wish, solve: Solve): WishPrice | null {
  const isKept = plan.keptWishes.includes(wish.id)
  const others = question.wishes.filter(({ id }) => id !== wish.id)
  const wishes = isKept ? others : [...others, { ...wish, isPin: true }]
  const other = bestPlan(question, wishes, solve, wish.words)
  if (!other) return null
  const difference = isKept ? other.plan.expectedMinor - plan.expectedMinor : plan.expectedMinor - other.plan.expectedMinor
  // Other wishes may give way in turn, so that the money alone could even rise; then it costs nothing.
  const costMinor = Math.max(0, difference)
  return { wish: wish.id, kept: isKept, costMinor, shareBp: Math.round((costMinor * 10_000) / Math.max(1, plan.expectedMinor)) }
}

/** Pins from which none can be left out for nothing to fit (deletion filter: each is tried without). Empty when the closings alone do not fit. */
export function whyNot(question: PlanQuestion, solve: Solve): string[] {
  const fits = (pins: readonly Wish[]) =>
    solve(lpOf(question, { wishes: pins, isFeasibilityOnly: true }), 'what stands in the way') !== null
  let left = question.wishes.filter(({ isPin }) => isPin)
  if (!fits([])) return []
  for (const pin of left) {
    const without = left.filter(({ id }) => id !== pin.id)
    if (!fits(without)) left = without
  }
  return left.map(({ id }) => id)
}

/** Steps that the closings need at least, and steps there are, less what is taken: said when even no wish at all would help. */
export function roomOf({ closings, taken, slots }: PlanQuestion): { needed: Slot; there: Slot } {
  const needed = closings.reduce((sum, { before, after }) => sum + before + after, 0)
  const busy = taken.reduce((sum, { from, to }) => sum + Math.max(0, Math.min(to, slots) - Math.max(from, 0)), 0)
  return { needed, there: slots - busy }
}
