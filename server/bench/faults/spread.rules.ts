import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/** One reading that stands, of one unit of a run. */
export interface UnitReading {
  tag: string
  value: number
  /** Expanded uncertainty; what differs by less is not known to differ. */
  doubt: number | null
  /** One step of the last digit that was read; null where it is not known. */
  step: number | null
}

export const OUTLIER_RULES = ['none', 'grubbs', 'modified z'] as const
export type OutlierRule = (typeof OUTLIER_RULES)[number]

export interface Spread {
  count: number
  mean: number
  median: number
  /** Standard deviation over n − 1; null for a single reading. */
  deviation: number | null
  least: number
  most: number
  rule: OutlierRule
  /** Units that stand apart, with how far in the rule's own figure. */
  apart: { tag: string; score: number; beyond: number }[]
}

/** From so many readings on the robust rule is used: below, it calls up to one in four good runs odd, from here on one in nine (measured). */
export const ROBUST_FROM = 10

/** How often Grubbs' test may call a run of good readings odd. */
export const ALPHA = 0.01

/**
 * Mean, spread and who stands apart. From three to nine readings by Grubbs' test, two-sided at one in a hundred
 * (Grubbs 1969, Technometrics 11, 1-21; NIST/SEMATECH e-Handbook 1.3.5.17.1): it holds its rate of false alarms at every
 * n, and finds one unit at most, so that two strays can hide each other. From ten on by the modified z-score,
 * |0.6745 (x − median) ÷ MAD| > 3.5 (Iglewicz and Hoaglin 1993; e-Handbook 1.3.5.17), which several strays do not move.
 * Below three nobody is called odd. Whoever differs from the median by no more than the doubt of the reading and one step of
 * its last digit is not either. Both take readings as continuous: rounded ones may agree to the last digit, and then any other
 * would stand apart. So Grubbs' test is left out where the others lie within less than one step. Of good readings rounded to
 * a step between a third and three times their deviation, at most one run in a hundred has somebody named (simulated, n = 3 to 9).
 */
export function spreadOf(readings: readonly UnitReading[]): Spread | null {
  const values = readings.map(({ value }) => value)
  const [least, most] = [Math.min(...values), Math.max(...values)]
  const count = values.length
  if (count === 0) return null
  const mean = values.reduce((sum, value) => sum + value, 0) / count
  const median = medianOf(values)
  const deviation = count > 1 ? Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1)) : null
  const rule: OutlierRule = count < 3 ? 'none' : count < ROBUST_FROM ? 'grubbs' : 'modified z'
  const found = rule === 'grubbs' ? grubbs(readings, mean, deviation ?? 0) : rule === 'modified z' ? modifiedZ(readings, median) : []
  const apart = found.filter(({ tag }) => {
    const one = readings.find((reading) => reading.tag === tag)
    return one !== undefined && Math.abs(one.value - median) > ((one.doubt ?? 0) + stepOf(readings)) * (1 + ROUNDING)
  })
  return { count, mean, median, deviation, least, most, rule, apart }
}

/**
 * Critical value of Grubbs' test, two-sided: (n − 1) ÷ √n · √(t² ÷ (n − 2 + t²)), with t the upper point of Student's
 * distribution at α ÷ 2n and n − 2 degrees of freedom.
 */
export function grubbsLimit(count: number, alpha: number): number {
  const t = tQuantile(1 - alpha / (2 * count), count - 2)
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt(t ** 2 / (count - 2 + t ** 2))
}

function grubbs(readings: readonly UnitReading[], mean: number, deviation: number): Spread['apart'] {
  if (deviation === 0) return []
  const limit = grubbsLimit(readings.length, ALPHA)
  const [farthest] = readings
    .map(({ tag, value }) => ({ tag, score: Math.abs(value - mean) / deviation, beyond: limit }))
    .sort((a, b) => b.score - a.score)
  if (!farthest || farthest.score <= limit) return []
  const others = readings.flatMap(({ tag, value }) => (tag === farthest.tag ? [] : [value]))
  const doTheyDiffer = Math.max(...others) - Math.min(...others) >= stepOf(readings) * (1 - ROUNDING)
  return doTheyDiffer ? [farthest] : []
}

/** The coarsest step that any of them was read with; nought where none is known. */
const stepOf = (readings: readonly UnitReading[]): number => Math.max(0, ...readings.map(({ step }) => step ?? 0))

/** Differences of decimal figures are off in their last binary places. */
const ROUNDING = 1e-9

/** Where more than half read the same the median deviation is nought; then the mean one serves, 1.253314 times (same source). */
export function modifiedZ(readings: readonly UnitReading[], median: number, limit = 3.5): Spread['apart'] {
  const off = readings.map(({ value }) => Math.abs(value - median))
  const mad = medianOf(off)
  const scale = mad > 0 ? mad / 0.6745 : 1.253314 * (off.reduce((sum, one) => sum + one, 0) / off.length)
  if (scale === 0) return []
  return readings.flatMap(({ tag, value }) => {
    const score = Math.abs(value - median) / scale
    return score > limit ? [{ tag, score, beyond: limit }] : []
  })
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = Math.floor(sorted.length / 2)
  return sorted.length % 2 === 1 ? (sorted[middle] ?? 0) : ((sorted[middle - 1] ?? 0) + (sorted[middle] ?? 0)) / 2
}

/** The rule in words, with what it can and cannot say of so few. */
export function ruleWords(rule: OutlierRule, count: number): string {
  if (rule === 'none') return `${count === 1 ? 'One reading' : `${count} readings`}: from three on one can say who stands apart.`
  if (rule === 'grubbs')
    return `Grubbs’ test at one in a hundred, ${count} readings: it names one unit at most, and of so few only one that is far off. Nobody is named who is off by no more than the doubt and one step of the last digit, or where all others read the same to that step; so at most one good run in a hundred has somebody named.`
  return `Modified z-score over 3.5 (Iglewicz and Hoaglin), ${count} readings: about one good run in nine has somebody named as well.`
}
