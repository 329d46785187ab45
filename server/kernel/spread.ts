/** What a list of whole numbers spans, and its middle. */
export interface Spread {
  many: number
  least: number
  middle: number
  most: number
}

/** The middle of a list of whole numbers, that of two being half-way between them, half of one upwards; null where there is none. */
export function medianOf(values: readonly number[]): number | null {
  if (values.length === 0) return null
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  const [upper = 0, lower = 0] = [sorted[middle], sorted[middle - 1]]
  return sorted.length % 2 === 1 ? upper : Math.round((lower + upper) / 2)
}

/** How many there are, the least, the middle and the most; null where there is none. */
export function spreadOf(values: readonly number[]): Spread | null {
  const middle = medianOf(values)
  if (middle === null) return null
  const sorted = [...values].sort((a, b) => a - b)
  return { many: sorted.length, least: sorted[0] ?? middle, middle, most: sorted.at(-1) ?? middle }
}
