import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import type { DecisionRule } from '../designs/design.contract'

export const VERDICTS = ['pass', 'pass within doubt', 'fail within doubt', 'fail'] as const
export type Verdict = (typeof VERDICTS)[number]

export const VERDICT_WORDS: Record<Verdict, string> = {
  pass: 'Pass',
  'pass within doubt': 'Pass within doubt',
  'fail within doubt': 'Fail within doubt',
  fail: 'Fail',
}

/** A pass within doubt may be certified, shown as such; a fail within doubt may not. */
export const isPass = (verdict: Verdict) => verdict === 'pass' || verdict === 'pass within doubt'

export interface Limits {
  lower: number | null
  upper: number | null
}

/**
 * Standard uncertainty of a value known only to lie within ±a: rectangular, a/√3 (JCGM 100:2008, 4.3.7).
 * The expanded one is with k = 2, which for a single rectangular part is 1.15 a.
 */
export function uncertaintyOf(halfWidth: number): { standard: number; expanded: number } {
  const standard = halfWidth / Math.sqrt(3)
  return { standard, expanded: 2 * standard }
}

/** Uncertainties of parts that do not depend on one another, together (JCGM 100:2008, 5.1.2). */
export const combined = (parts: readonly number[]): number => Math.hypot(...parts)

/**
 * The factors by which a standard deviation of so many readings is multiplied for 95.45 % (JCGM 100:2008, table G.2, by degrees
 * of freedom 1 to 9; from memory). Half of one in place of k = 2 makes up for how little a few readings tell of their spread.
 */
const STUDENT_95_45 = [13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32]

/** The standard uncertainty of the mean of two to ten readings, with what so few of them leave open. */
export function uncertaintyOfMean(readings: readonly number[]): number {
  const mean = readings.reduce((sum, one) => sum + one, 0) / readings.length
  const deviation = Math.sqrt(readings.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (readings.length - 1))
  return (deviation / Math.sqrt(readings.length)) * ((STUDENT_95_45[readings.length - 2] ?? 2) / 2)
}

/** Probability that a value of which only ±a is known, everything in it alike, lies within the limits (JCGM 106:2012, 7). */
export function conformityOfRectangle(value: number, halfWidth: number, limits: Limits): number {
  if (halfWidth === 0) return isWithin(value, limits, 0) ? 1 : 0
  const from = Math.max(value - halfWidth, limits.lower ?? Number.NEGATIVE_INFINITY)
  const to = Math.min(value + halfWidth, limits.upper ?? Number.POSITIVE_INFINITY)
  return Math.min(1, Math.max(0, (to - from) / (2 * halfWidth)))
}

/** What is risked by believing each answer (ILAC-G8:09/2019, 4.2.3, with w = U and k = 2), in a sentence. */
export const RISK_WORDS: Record<Verdict, string> = {
  pass: 'At most 2.5 in 100 such passes are wrong.',
  'pass within doubt': 'Up to 50 in 100 such passes are wrong.',
  'fail within doubt': 'Up to 50 in 100 such failures are wrong: it may be within its limits after all.',
  fail: 'At most 2.5 in 100 such failures are wrong.',
}

/** Probability that the true value lies within the limits, normal around the reading (JCGM 106:2012, 7.2 to 7.4). */
export function probabilityOfConformity(value: number, standardUncertainty: number, limits: Limits): number {
  if (standardUncertainty === 0) return isWithin(value, limits, 0) ? 1 : 0
  const below = limits.upper === null ? 1 : normalCdf(limits.upper, value, standardUncertainty)
  const under = limits.lower === null ? 0 : normalCdf(limits.lower, value, standardUncertainty)
  return Math.max(0, below - under)
}

/**
 * The verdict on one value. *simple*: the limits as they stand. *guarded*: acceptance limits drawn in
 * by w = U. *guarded with doubt*: four answers, w = U (ILAC-G8:09/2019, 4.2.3). Without a stated
 * uncertainty only *simple* can decide; callers refuse the others before they come here.
 */
export function decideVerdict(value: number, limits: Limits, rule: DecisionRule, expanded: number): Verdict {
  const guard = rule === 'simple' ? 0 : expanded
  if (isWithin(value, limits, guard)) return 'pass'
  if (rule !== 'guarded-with-doubt') return 'fail'
  if (isWithin(value, limits, 0)) return 'pass within doubt'
  return isWithin(value, limits, -guard) && guard > 0 ? 'fail within doubt' : 'fail'
}

/** The doubt is as wide as the tolerance: this instrument cannot decide this check. */
export function cannotDecide(limits: Limits, expanded: number): boolean {
  if (limits.lower === null || limits.upper === null) return false
  return 2 * expanded >= limits.upper - limits.lower
}

/** Edges belong to the inside; the slack is for the last bit of a sum such as 4.75 + 0.05. */
function isWithin(value: number, { lower, upper }: Limits, guard: number): boolean {
  const slack = 1e-12 * Math.max(Math.abs(value), Math.abs(lower ?? 0), Math.abs(upper ?? 0))
  if (lower !== null && value < lower + guard - (guard === 0 ? 0 : slack)) return false
  return upper === null || value <= upper - guard + (guard === 0 ? 0 : slack)
}
