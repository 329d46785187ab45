import { invariant } from '#kernel/invariant'
import { faultIn, planOf } from './model.rules'
import { placeName } from './places.rules'
import type { PlanQuestion, Slot, Wish } from './planning.contract'

/** What the solver answers; null when nothing fits. */
export interface Solved {
  /** The variables that are not zero. */
  values: ReadonlyMap<string, number>
  objective: number
  /** No plan of this program is worth more: the objective itself, unless its time ran out before the proof. */
  bound: number
  /** Of a program without whole numbers: by how much the objective falls at least with one more of a variable. */
  costs?: ReadonlyMap<string, number>
}

export type Solve = (lp: string, label: string) => Solved | null

/** Plans of whole minor units differ by one at least; early slots count for less than a tenth of one in all. */
export const CUT_OFF = 0.8

/** Slots for all closings, what they are worth to the program, and what none is worth more than. */
export interface Answered {
  at: Slot[]
  worth: number
  bound: number
}

/** The slots that the solver gave, held against what a plan must be; the bound in whole minor units. */
export function answerOf(question: PlanQuestion, wishes: readonly Wish[], solved: Solved | null): Answered | null {
  if (!solved) return null
  const at = question.closings.map((closing, index) => {
    for (let slot = 0; slot <= question.slots; slot++) if ((solved.values.get(placeName(index, slot)) ?? 0) > 0.5) return slot
    throw new Error(`the solver gave lot ${closing.lot} no slot`)
  })
  const fault = faultIn(question, at, wishes)
  invariant(fault === null, `the solver's plan stands: ${fault}`)
  const { worth } = planOf(
    question,
    at,
    wishes.filter(({ kind }) => kind === 'within'),
  )
  // What its time ran out on may still count a silence that there is not.
  const isProved = solved.bound <= solved.objective + CUT_OFF
  invariant(worth > solved.objective - 1 && (!isProved || worth < solved.objective + 1), 'the solver counts as we do')
  // Of two neighbours within the cut-off the plan is the better: plans are worth whole minor units.
  return { at, worth, bound: isProved ? worth : Math.ceil(solved.bound) }
}
