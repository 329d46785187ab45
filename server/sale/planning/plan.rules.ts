import { lpOf } from './model.rules'
import {
  type PlanAnswer,
  type PlanNews,
  type PlanQuestion,
  type Slot,
  STEPS_AN_HOUR,
  type WayOut,
  type Wish,
  type WishPrice,
} from './planning.contract'
import { type BestPlan, bestPlan, type Searching } from './search.rules'
import type { Solve } from './solved.rules'

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
  if (!best) {
    const together = whyNot(question, solve)
    return { fits: false, together, ways: waysOut(question, together, solve), seconds: seconds() }
  }
  const { plan, worth, bound } = best
  tell({ stage: 'planned', plan, worthMinor: worth, boundMinor: bound })
  const prices: WishPrice[] = []
  for (const wish of wishes) {
    const price = priceOf(question, best, wish, (asked) => bestPlan(question, asked, solve, wish.words, { known }))
    prices.push(price)
    tell({ stage: 'priced', price })
  }
  return { fits: true, plan, prices, seconds: seconds() }
}

/** A kept wish costs what the plan without it would be worth more; one that is not kept, what keeping it would take away. */
function priceOf(question: PlanQuestion, best: BestPlan, wish: Wish, planUnder: (wishes: readonly Wish[]) => BestPlan | null): WishPrice {
  const { plan, worth } = best
  const kept = plan.keptWishes.includes(wish.id)
  const others = question.wishes.filter(({ id }) => id !== wish.id)
  const other = planUnder(kept ? others : [...others, { ...wish, isPin: true }])
  if (!other) return { wish: wish.id, kept, costMinor: null, shareBp: 0 }
  const weight = kept && !wish.isPin ? wish.weightMinor : 0
  const costMinor = Math.max(0, kept ? other.worth - (worth - weight) : worth - other.worth)
  return { wish: wish.id, kept, costMinor, shareBp: Math.round((costMinor * 10_000) / Math.max(1, plan.expectedMinor)) }
}

/** So far the hours of a wish are stretched in search of a way out: two hours. */
const FURTHEST = 24

/** Which single rule could give way for all pins to be kept, and the least that it would have to. */
export function waysOut(question: PlanQuestion, together: readonly string[], solve: Solve): WayOut[] {
  const pins = question.wishes.filter(({ isPin }) => isPin)
  const fits = (asked: PlanQuestion, wishes: readonly Wish[] = pins) =>
    solve(lpOf(asked, { wishes, isFeasibilityOnly: true }), 'a way out') !== null
  const ways: WayOut[] = []
  const apart = leastChange(question.likeApart, (less) => fits({ ...question, likeApart: question.likeApart - less }))
  if (apart !== null) ways.push({ rule: 'like-apart', steps: question.likeApart - apart })
  const hour = (more: number) => ({ ...question, mostAnHour: question.mostAnHour + more })
  const inAnHour = question.mostAnHour === 0 ? null : leastChange(STEPS_AN_HOUR - question.mostAnHour, (more) => fits(hour(more)))
  if (inAnHour !== null) ways.push({ rule: 'most-an-hour', closings: question.mostAnHour + inAnHour })
  const most = Math.max(0, ...question.closings.map(({ after }) => after))
  const shorter = (less: Slot) => ({
    ...question,
    closings: question.closings.map((closing) => ({ ...closing, after: Math.min(closing.after, Math.max(1, most - less)) })),
  })
  const after = leastChange(most - 1, (less) => fits(shorter(less)))
  if (after !== null) ways.push({ rule: 'after', steps: most - after })
  for (const wish of pins.filter(({ id, kind }) => kind === 'within' && together.includes(id))) {
    const others = pins.filter(({ id }) => id !== wish.id)
    const longer = leastChange(FURTHEST, (more) => fits(question, [...others, { ...wish, to: wish.to + more }]))
    if (longer !== null) ways.push({ rule: 'longer', wish: wish.id, steps: longer })
    const earlier = leastChange(FURTHEST, (more) => fits(question, [...others, { ...wish, from: wish.from - more }]))
    if (earlier !== null) ways.push({ rule: 'earlier', wish: wish.id, steps: earlier })
  }
  return ways
}

/** The least change from one up to `most` that helps, where more of it helps no less; null when none does. */
function leastChange(most: Slot, helps: (change: Slot) => boolean): Slot | null {
  if (most < 1 || !helps(most)) return null
  let [fails, works] = [0, most]
  while (works - fails > 1) {
    const middle = Math.floor((fails + works) / 2)
    if (helps(middle)) works = middle
    else fails = middle
  }
  return works
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

/** Steps that the closings need at least, and steps there are with the room behind the last, less what is taken: said when even no wish would help. */
export function roomOf({ closings, taken, slots }: PlanQuestion): { needed: Slot; there: Slot } {
  const needed = closings.reduce((sum, { before, after }) => sum + before + after, 0)
  const busy = taken.reduce((sum, { from, to }) => sum + Math.max(0, Math.min(to, slots) - Math.max(from, 0)), 0)
  const behind = Math.max(0, ...closings.map(({ after }) => after))
  return { needed, there: slots + behind - busy }
}
