/** Sampling by attributes, single plans, normal inspection: MIL-STD-105E tables I and II-A, the same as ISO 2859-1. */

export const LEVELS = ['I', 'II', 'III'] as const
export type Level = (typeof LEVELS)[number]

/** Acceptable quality levels in percent, as the columns of table II-A are headed. */
export const AQLS = ['0.065', '0.10', '0.15', '0.25', '0.40', '0.65', '1.0', '1.5', '2.5', '4.0', '6.5', '10'] as const
export type Aql = (typeof AQLS)[number]

const LETTERS = 'ABCDEFGHJKLMNPQR'
const SIZES = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000]

/** Table I: the largest batch of each row, and the letters of the levels I, II and III. */
const TABLE_I: readonly [most: number, letters: string][] = [
  [8, 'AAB'],
  [15, 'ABC'],
  [25, 'BCD'],
  [50, 'CDE'],
  [90, 'CEF'],
  [150, 'DFG'],
  [280, 'EGH'],
  [500, 'FHJ'],
  [1200, 'GJK'],
  [3200, 'HKL'],
  [10_000, 'JLM'],
  [35_000, 'KMN'],
  [150_000, 'LNP'],
  [500_000, 'MPQ'],
  [Number.POSITIVE_INFINITY, 'NQR'],
]

export const codeLetter = (quantity: number, level: Level): string =>
  TABLE_I.find(([most]) => quantity <= most)?.[1].charAt(LEVELS.indexOf(level)) ?? 'R'

/** Bad ones allowed along the diagonals of table II-A: the same wherever sample size and AQL weigh alike. 10 is the first. */
const DIAGONAL: Record<number, number> = { 10: 0, 13: 1, 14: 2, 15: 3, 16: 5, 17: 7, 18: 10, 19: 14, 20: 21 }

/** The plan of a letter and an AQL; where the table has an arrow, the plan that it points to. */
export function planOf(letter: string, aql: Aql): { letter: string; sample: number; accept: number } {
  const column = AQLS.indexOf(aql)
  let row = LETTERS.indexOf(letter)
  const at = row + column
  // Arrows: before the diagonals down to a larger sample; after them, and at 11, up to a smaller one (down where there is none).
  if (at < 10) row += 10 - at
  else if (at === 11) row += row === 0 ? 2 : -1
  else if (at === 12) row += 1
  else if (at > 20) row -= at - 20
  return { letter: LETTERS.charAt(row), sample: SIZES[row] ?? 2, accept: DIAGONAL[row + column] ?? 0 }
}

export type Sampling = { how: 'all'; why: 'programmed' | 'small' } | { how: 'some'; letter: string; sample: number; accept: number }

/** How many of a batch to test. Programmed parts all, and so are batches that are no larger than their sample. */
export function samplingFor({
  quantity,
  programmed,
  level,
  aql,
}: {
  quantity: number
  programmed: boolean
  level: Level
  aql: Aql
}): Sampling {
  if (programmed) return { how: 'all', why: 'programmed' }
  const plan = planOf(codeLetter(quantity, level), aql)
  return plan.sample >= quantity ? { how: 'all', why: 'small' } : { how: 'some', ...plan }
}

/** Where a plan stands: it may be decided before the sample is full, by too many bad ones. */
export function planVerdict(
  { sample, accept }: { sample: number; accept: number },
  { tested, bad }: Tested,
): 'going on' | 'accepted' | 'rejected' {
  if (bad > accept) return 'rejected'
  return tested >= sample ? 'accepted' : 'going on'
}

export interface Tested {
  tested: number
  bad: number
}

/** The chance that `tested` of a batch of `quantity` with `bad` bad ones show at least one of them: hypergeometric. */
export function chanceToFind(quantity: number, bad: number, tested: number): number {
  let missed = 1
  for (let drawn = 0; drawn < tested; drawn++) missed *= Math.max(0, quantity - bad - drawn) / (quantity - drawn)
  return 1 - missed
}

/** The least to test so that at least one of `bad` bad ones is found with this confidence. */
export function leastToTest(quantity: number, bad: number, confidence: number): number {
  for (let tested = 1; tested < quantity; tested++) if (chanceToFind(quantity, bad, tested) >= confidence - 1e-12) return tested
  return quantity
}

/** The chance of at most `accept` bad ones in the sample, if `bad` of the batch are: the operating characteristic of a plan. */
export function chanceToPass(quantity: number, bad: number, { sample, accept }: { sample: number; accept: number }): number {
  let sum = 0
  for (let found = 0; found <= Math.min(accept, bad, sample); found++) {
    sum += Math.exp(logChoose(bad, found) + logChoose(quantity - bad, sample - found) - logChoose(quantity, sample))
  }
  return Math.min(1, sum)
}

/**
 * The limiting quality of a plan for one batch alone: the least number of bad ones in it with which it is accepted with no
 * more than this chance (one time in ten is usual, ISO 2859-2).
 */
export function limitingQuality(quantity: number, plan: { sample: number; accept: number }, chance = 0.1): number {
  let [low, high] = [0, quantity]
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (chanceToPass(quantity, middle, plan) <= chance) high = middle
    else low = middle
  }
  return high
}

function logChoose(from: number, count: number): number {
  if (count < 0 || count > from) return Number.NEGATIVE_INFINITY
  let sum = 0
  for (let index = 1; index <= Math.min(count, from - count); index++)
    sum += Math.log((from - Math.min(count, from - count) + index) / index)
  return sum
}

/**
 * What is believed of `untested` pieces after `tested` with `bad` bad ones, if before the first test every share of
 * bad ones was as likely as every other (beta-binomial with a uniform prior): the chance of each number of good ones.
 */
export function goodAmongUntested({ tested, bad }: Tested, untested: number): number[] {
  const good = tested - bad
  // In logarithms: the chance of none at all may be too small for a number, and that of many not.
  let log = logChoose(bad + untested, bad) - logChoose(tested + untested + 1, tested + 1)
  return Array.from({ length: untested + 1 }, (_, count) => {
    const chance = Math.exp(log)
    log += Math.log(((count + 1 + good) * (untested - count)) / ((count + 1) * (bad + untested - count)))
    return chance
  })
}

/** At least so many of the untested are good, with this confidence. */
export function goodWith(seen: Tested, untested: number, confidence: number): number {
  const chances = goodAmongUntested(seen, untested)
  let above = 0
  for (let count = untested; count > 0; count--) {
    above += chances[count] ?? 0
    if (above >= confidence - 1e-12) return count
  }
  return 0
}

/** More than this is not asked for by one letter. */
const MOST_ASKED = 2000

/** How many more pieces to ask for, so that with this confidence `needed` good ones are there, tested ones included; null: more than anybody gives. */
export function piecesToAskFor({
  needed,
  quantity,
  tested,
  bad,
  confidence,
}: Tested & { needed: number; quantity: number; confidence: number }): number | null {
  const wanted = needed - (tested - bad)
  const enough = (more: number) => goodWith({ tested, bad }, quantity - tested + more, confidence) >= wanted
  if (enough(0)) return 0
  let [low, high] = [0, 1]
  while (!enough(high)) {
    if (high > MOST_ASKED) return null
    ;[low, high] = [high, high * 2]
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (enough(middle)) high = middle
    else low = middle
  }
  return high
}
