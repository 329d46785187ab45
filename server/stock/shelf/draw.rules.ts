import { seededChance } from '#kernel/seeded'

/**
 * Which of the pieces 1 to `quantity` to test, so that no eye chooses: `sample` different numbers, the same for the same
 * batch and plan, in rising order.
 */
export function drawAtRandom(quantity: number, sample: number, seed: string): number[] {
  const chance = seededChance([...seed].reduce((sum, letter) => (Math.imul(sum, 31) + (letter.codePointAt(0) ?? 0)) >>> 0, 7))
  const pieces = Array.from({ length: quantity }, (_, index) => index + 1)
  for (let at = 0; at < Math.min(sample, quantity); at++) {
    const other = at + Math.floor(chance() * (quantity - at))
    const one = pieces[at] ?? 0
    pieces[at] = pieces[other] ?? 0
    pieces[other] = one
  }
  return pieces.slice(0, sample).sort((a, b) => a - b)
}

export interface Spread {
  count: number
  mean: number
  /** Of the sample, n − 1 in the denominator; null of a single figure. */
  deviation: number | null
  least: number
  most: number
}

export function spreadOf(figures: readonly number[]): Spread | null {
  if (figures.length === 0) return null
  const mean = figures.reduce((sum, one) => sum + one, 0) / figures.length
  const squares = figures.reduce((sum, one) => sum + (one - mean) ** 2, 0)
  return {
    count: figures.length,
    mean,
    deviation: figures.length > 1 ? Math.sqrt(squares / (figures.length - 1)) : null,
    least: Math.min(...figures),
    most: Math.max(...figures),
  }
}
