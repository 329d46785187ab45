import { lpOf } from './model.rules'
import { placeName } from './places.rules'
import type { PlanQuestion, Slot, Wish } from './planning.contract'
import { type Answered, answerOf, CUT_OFF, type Solve } from './solved.rules'

interface Splitting {
  solve: Solve
  label: string
  /** The places that a better plan can use. */
  places: readonly (readonly Slot[])[]
  /** The best that was found so far, and what another must be worth more than. */
  known: Answered | null
  floor: number
}

/** With no more places than this for each closing, what is better is soon told apart. */
const FEW = 50

export const areFew = (places: readonly (readonly Slot[])[]): boolean =>
  places.reduce((sum, slots) => sum + slots.length, 0) <= FEW * places.length

/** So many halves are looked at before all goes to the solver in whole numbers. */
const MOST_HALVES = 120

/**
 * The best plan on these places, or what is known where none is better. Where the program without whole numbers lays one closing
 * at two times at once, the day is halved there: it closes up to that time, or after it. Most halves are worth no more than
 * what is known and end at once, long before the solver in whole numbers has made up its rows for the same.
 */
export function bestInHalves(question: PlanQuestion, wishes: readonly Wish[], splitting: Splitting): Answered | null {
  const { solve, label, places, known, floor } = splitting
  const inWhole = () => answerOf(question, wishes, solve(lpOf(question, { wishes, places }), label))
  if (!areFew(places)) return inWhole()
  let [best, least] = [known, floor]
  const open = [places]
  for (let looked = 0; looked < MOST_HALVES; looked++) {
    const half = open.pop()
    if (!half) return best
    const relaxed = solve(lpOf(question, { wishes, places: half, isRelaxed: true }), label)
    if (!relaxed || relaxed.objective < least + CUT_OFF) continue
    // What costs more than there is to gain is left out of both halves.
    const gain = relaxed.objective - least
    const left = half.map((slots, index) => slots.filter((slot) => (relaxed.costs?.get(placeName(index, slot)) ?? 0) <= gain))
    const shares = left.map((slots, index) => slots.map((slot) => relaxed.values.get(placeName(index, slot)) ?? 0))
    const split = mostEven(shares)
    if (split) {
      const part = (isEarly: boolean) =>
        left.map((slots, index) => (index === split.index ? slots.filter((_, at) => at <= split.at === isEarly) : slots))
      open.push(part(true), part(false))
      continue
    }
    const found = answerOf(question, wishes, relaxed)
    if (found && found.worth > least) [best, least] = [found, found.worth]
  }
  return open.length === 0 ? best : inWhole()
}

/** The closing and the place up to which its shares come nearest to one half; null where each closing stands at one place. */
function mostEven(shares: readonly (readonly number[])[]): { index: number; at: number } | null {
  let [most, split]: [number, { index: number; at: number } | null] = [1e-6, null]
  for (const [index, own] of shares.entries()) {
    let sum = 0
    for (const [at, share] of own.entries()) {
      sum += share
      const least = Math.min(sum, 1 - sum)
      if (least > most + 1e-9) [most, split] = [least, { index, at }]
    }
  }
  return split
}
