import { invariant } from '#kernel/invariant'
import { CURRENCIES, type Currency, type Minor, MOST_MINOR, parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'

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

/** The highest amount from which one step leads to `toMinor` or to less; below nought where none does. */
export function mostUnder(ladder: Ladder, toMinor: Minor): Minor {
  const within = ladder.map(({ stepMinor }, index) => Math.min(toMinor - stepMinor, (ladder[index + 1]?.fromMinor ?? MOST_MINOR) - 1))
  const highest = within.findLastIndex((amount, index) => amount >= (ladder[index]?.fromMinor ?? 0))
  return within[highest] ?? -1
}

/** The next `count` amounts that may be named from `leastMinor` on, each one step over the one before. */
export function stepsFrom(ladder: Ladder, leastMinor: Minor, count: number): Minor[] {
  const steps: Minor[] = []
  for (let amount = leastMinor; steps.length < count && amount <= MOST_MINOR; amount += stepAt(ladder, amount)) steps.push(amount)
  return steps
}

/** A rung as it was typed, and the row in which it stood. */
export interface TypedRung {
  from: string
  step: string
  index: number
}

/** Reads a ladder; refuses at the row that is wrong: the first from nought, edges that rise, steps that never fall. */
export function readLadder(rows: readonly TypedRung[], currency: Currency): Ladder {
  const rungs: Rung[] = []
  for (const { from, step, index } of rows) {
    const at = (name: 'from' | 'step') => `rows.${index}.${name}`
    const fromMinor = parseMoney(from, currency, at('from'))
    const stepMinor = parseMoney(step, currency, at('step'))
    const before = rungs.at(-1)
    if (!before && fromMinor !== 0) throw Refusal.at(at('from'), 'A ladder begins at 0.')
    if (stepMinor === 0) throw Refusal.at(at('step'), 'Write a step above zero.')
    if (before && fromMinor <= before.fromMinor)
      throw Refusal.at(at('from'), `Each rung begins higher than the one before it, here above ${showMoney(before.fromMinor, currency)}.`)
    if (before && stepMinor < before.stepMinor)
      throw Refusal.at(at('step'), `A step is never smaller than the one before it, here ${showMoney(before.stepMinor, currency)}.`)
    rungs.push({ fromMinor, stepMinor })
  }
  invariant(isLadder(rungs), 'a ladder that was read is one')
  return rungs
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

/** A ladder in words: "from 0.00 by 2.00, from 50.00 by 5.00". */
export const ladderWords = (ladder: Ladder, currency: Currency): string =>
  ladder.map(({ fromMinor, stepMinor }) => `from ${showMoney(fromMinor, currency)} by ${showMoney(stepMinor, currency)}`).join(', ')
