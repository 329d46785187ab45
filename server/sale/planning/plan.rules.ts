import { lpOf } from './model.rules'
import type { Plan, PlanAnswer, PlanNews, PlanQuestion, Slot, Wish, WishPrice } from './planning.contract'
import { type BestPlan, bestPlan, type Searching, type Solve } from './search.rules'

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
  const known: Searching['known'] = new Map()
  const best = bestPlan(question, wishes, solve, 'the plan', {
    known,
    tell: (bestMinor, boundMinor) => tell({ stage: 'searching', seconds: seconds(), bestMinor, boundMinor }),
  })
  if (!best) return { fits: false, together: whyNot(question, solve), seconds: seconds() }
  const { plan, worth, bound } = best
  tell({ stage: 'planned', plan, worthMinor: worth, boundMinor: bound })
  const prices: WishPrice[] = []
  for (const wish of wishes) {
    const price = priceOf(question, plan, wish, (asked) => bestPlan(question, asked, solve, wish.words, { known }))
    if (!price) continue
    prices.push(price)
    tell({ stage: 'priced', price })
  }
  return { fits: true, plan, prices, seconds: seconds() }
}

/** A kept wish costs what the day would raise more without it; one that is not kept, what keeping it would take away. */
function priceOf(
  question: PlanQuestion,
  plan: Plan,
  wish: Wish,
  planUnder: (wishes: readonly Wish[]) => BestPlan | null,
): WishPrice | null {
  const isKept = plan.keptWishes.includes(wish.id)
  const others = question.wishes.filter(({ id }) => id !== wish.id)
  const wishes = isKept ? others : [...others, { ...wish, isPin: true }]
  const other = planUnder(wishes)
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
