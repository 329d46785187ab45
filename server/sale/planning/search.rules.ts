import { areFew, bestInHalves } from './halves.rules'
import { faultIn, keeps, lpOf, planOf } from './model.rules'
import { placeName, placesOf } from './places.rules'
import type { Plan, PlanQuestion, Slot, Wish } from './planning.contract'
import { type Answered, answerOf, CUT_OFF, type Solve } from './solved.rules'

export interface BestPlan {
  plan: Plan
  worth: number
  /** No plan is worth more; the plan's own worth once that is proved. */
  bound: number
}

/** So many places for each closing are tried first, the cheapest by what the program without whole numbers says that each costs. */
const CHEAPEST = 9

/** So many times as many are tried next, where what was found leaves too many that could be better. */
const WIDER = 3

export interface Searching {
  /** How many places are tried first. */
  cheapest?: number
  /** Programs of this question that were solved already: prices ask for many of them again. */
  known?: Map<string, Found | null>
  /** Hears of the best so far, and of what no plan exceeds. */
  tell?(worth: number, bound: number): void
}

/** A program: wishes for an order that are pins in it, and those that it leaves out and that may still be kept. */
interface Node {
  pinned: readonly Wish[]
  open: readonly Wish[]
  at: Slot[]
  /** No plan under it is worth more. */
  bound: number
}

/**
 * The plan of most worth under these wishes, or null. Wishes for an order make weak programs, so they are branched on: solved
 * without them first; where one is not kept, once with it as a pin and once without its weight, the best bound first.
 */
export function bestPlan(
  question: PlanQuestion,
  wishes: readonly Wish[],
  solve: Solve,
  label: string,
  { cheapest = CHEAPEST * question.closings.length, known = new Map(), tell = () => {} }: Searching = {},
): BestPlan | null {
  const isForOrder = ({ kind, isPin }: Wish) => kind !== 'within' && !isPin
  const always = wishes.filter((wish) => !isForOrder(wish))
  const weightOf = (some: readonly Wish[]) => some.reduce((sum, { weightMinor }) => sum + weightMinor, 0)
  // What was found for other wishes may stand under these too: only what is better is searched for.
  let best = bestOf(question, known, wishes)
  const nodeOf = (pinned: readonly Wish[], open: readonly Wish[]): Node | null => {
    const asked = [...always, ...pinned.map((wish) => ({ ...wish, isPin: true }))]
    if (new Set(asked.flatMap(({ kind, isPin, lot }) => (kind === 'last' && isPin ? [lot] : []))).size > 1) return null
    const key = asked.map(({ id, isPin }) => `${id} ${isPin}`).join()
    const extra = weightOf(pinned) + weightOf(open)
    const floor = best ? best.worth - extra : Number.NEGATIVE_INFINITY
    const solved = known.has(key) ? known.get(key) : solveByPlaces(question, asked, { solve, label, cheapest, floor })
    if (solved === 'beaten') return null
    known.set(key, solved ?? null)
    return solved ? { pinned, open, at: solved.at, bound: solved.bound + extra } : null
  }
  const root = nodeOf([], wishes.filter(isForOrder))
  const nodes = root ? [root] : []
  let bound = Number.NEGATIVE_INFINITY
  for (;;) {
    nodes.sort((a, b) => a.bound - b.bound)
    const node = nodes.pop()
    if (!node || (best && node.bound <= best.worth)) break
    const found = planOf(question, node.at, wishes)
    if (!best || found.worth > best.worth) best = found
    tell(best.worth, Math.max(best.worth, node.bound, bound))
    const missed = node.open.find((wish) => !keeps(question, node.at, wish))
    if (!missed) {
      // All that may be kept is kept: what is left between worth and bound is what was not proved in time.
      bound = Math.max(bound, node.bound)
      continue
    }
    const open = node.open.filter((wish) => wish !== missed)
    const withIt = nodeOf([...node.pinned, missed], open)
    if (withIt) nodes.push(withIt)
    nodes.push({ ...node, open, bound: node.bound - missed.weightMinor })
  }
  if (!best) return null
  const { worth, ...plan } = best
  return { plan, worth, bound: Math.max(bound, worth) }
}

type Found = { at: Slot[]; bound: number }

/** Of the plans that were found the one that is worth most under these wishes; null where none keeps what must be kept. */
function bestOf(
  question: PlanQuestion,
  known: ReadonlyMap<string, Found | null>,
  wishes: readonly Wish[],
): (Plan & { worth: number }) | null {
  const plans = [...known.values()].flatMap((found) =>
    found && faultIn(question, found.at, wishes) === null ? [planOf(question, found.at, wishes)] : [],
  )
  return plans.reduce<(typeof plans)[number] | null>((best, one) => (best && best.worth >= one.worth ? best : one), null)
}

interface ByPlaces {
  solve: Solve
  label: string
  cheapest: number
  /** A plan is known that is worth so much to this program: no other is looked for but a better one. */
  floor: number
}

/**
 * One program, solved on its cheapest places. By the reduced costs of the program without whole numbers a place that was left
 * out takes so much off its bound that no better plan can use it; where that is not so, those are let in.
 */
function solveByPlaces(
  question: PlanQuestion,
  wishes: readonly Wish[],
  { solve, label, cheapest, floor }: ByPlaces,
): Found | null | 'beaten' {
  const all = placesOf(question, wishes)
  const solveOn = (places: readonly (readonly Slot[])[]) => answerOf(question, wishes, solve(lpOf(question, { wishes, places }), label))
  if (all.reduce((sum, slots) => sum + slots.length, 0) <= cheapest) return solveOn(all)
  const relaxed = solve(lpOf(question, { wishes, isRelaxed: true, places: all }), label)
  if (!relaxed) return null
  if (relaxed.objective < floor + CUT_OFF) return 'beaten'
  const costs = relaxed.costs ?? new Map<string, number>()
  const answered = (one: Answered | null) =>
    one === null || one.worth < floor ? (floor === Number.NEGATIVE_INFINITY ? null : 'beaten') : one
  const costOf = (index: number, slot: Slot) => costs.get(placeName(index, slot)) ?? 0
  const upTo = (most: number) => all.map((slots, index) => slots.filter((slot) => costOf(index, slot) <= most))
  const sorted = all.flatMap((slots, index) => slots.map((slot) => costOf(index, slot))).sort((a, b) => a - b)
  const gainOver = (worth: number) => relaxed.objective - worth
  let [found, least]: [Answered | null, number] = [null, floor]
  for (const many of [cheapest, WIDER * cheapest]) {
    // Beyond what is known already no place is worth trying.
    const limit = Math.min(sorted[many - 1] ?? Number.POSITIVE_INFINITY, gainOver(least))
    found = solveOn(upTo(limit)) ?? found
    least = Math.max(least, found?.worth ?? least)
    if (limit === Number.POSITIVE_INFINITY || gainOver(least) - limit < CUT_OFF) return answered(found)
    if (areFew(upTo(gainOver(least)))) break
  }
  return answered(bestInHalves(question, wishes, { solve, label, places: upTo(gainOver(least)), known: found, floor: least }))
}
