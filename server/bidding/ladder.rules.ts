import { invariant } from '../kernel/invariant'
import { CURRENCIES, type Currency, type Minor, MOST_MINOR } from '../kernel/money'

/** One rung: from this amount on (edge included) the price moves by this step. */
export interface Rung {
  fromMinor: Minor
  stepMinor: Minor
}

/** Rungs from nought upwards; steps never get smaller, or a later second bid could lower the price. */
export type Ladder = readonly Rung[]

const MAJOR_RUNGS = [
  [0, 2],
  [50, 5],
  [100, 10],
  [500, 25],
  [1000, 50],
] as const

/**
 * The ladder the house starts with (common practice): [0, 50) 2, [50, 100) 5, [100, 500) 10, [500, 1000) 25,
 * from 1000 50, in major units. A currency without a minor unit counts a hundred of it as one.
 */
export function defaultLadder(currency: Currency): Ladder {
  const unit = 10 ** (CURRENCIES[currency].exponent || 2)
  return MAJOR_RUNGS.map(([from, step]) => ({ fromMinor: from * unit, stepMinor: step * unit }))
}

/** The step at an amount: the rung whose lower edge is the highest at or under it. */
export function stepAt(ladder: Ladder, amountMinor: Minor): Minor {
  const rung = ladder.findLast(({ fromMinor }) => fromMinor <= amountMinor)
  invariant(rung, 'a ladder begins at nought')
  return rung.stepMinor
}

/** The next `count` amounts that may be named from `leastMinor` on, each one step over the one before. */
export function stepsFrom(ladder: Ladder, leastMinor: Minor, count: number): Minor[] {
  const steps: Minor[] = []
  for (let amount = leastMinor; steps.length < count && amount <= MOST_MINOR; amount += stepAt(ladder, amount)) steps.push(amount)
  return steps
}

/** True when the ladder begins at nought, its edges rise, and its steps are whole, above nought and never fall. */
export function isLadder(ladder: Ladder): boolean {
  return (
    ladder[0]?.fromMinor === 0 &&
    ladder.every(({ fromMinor, stepMinor }, index) => {
      const before = ladder[index - 1]
      const whole = Number.isSafeInteger(fromMinor) && Number.isSafeInteger(stepMinor) && stepMinor > 0
      return whole && (!before || (before.fromMinor < fromMinor && before.stepMinor <= stepMinor))
    })
  )
}
