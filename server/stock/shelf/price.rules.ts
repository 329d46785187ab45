import type { Minor } from '#kernel/money'

/** What it costs to buy something again: `minor` for so many pieces, since a resistor alone costs less than the smallest coin. */
export interface Price {
  minor: Minor
  pieces: number
}

/** What `count` pieces cost at a price, in whole minor units, half of one upwards; exact whatever the sizes. */
export function costOf(count: number, { minor, pieces }: Price): Minor {
  const [whole, of] = [BigInt(count) * BigInt(minor), BigInt(pieces)]
  return Number((2n * whole + of) / (2n * of))
}

/** So many pieces of one batch that sit in a machine. */
export interface FittedCount {
  partId: string
  batchId: string
  isGift: boolean
  count: number
}

/** So many pieces of one part, all given or all bought, at one price; null: nobody has said what they cost. */
export interface PricedLine {
  partId: string
  isGift: boolean
  count: number
  price: Price | null
  minor: Minor | null
}

export interface PartsSum {
  lines: PricedLine[]
  givenMinor: Minor
  boughtMinor: Minor
  /** Pieces that nobody has priced, which the sums leave out. */
  unpriced: number
}

export interface Prices {
  ofBatch: ReadonlyMap<string, Price>
  ofPart: ReadonlyMap<string, Price>
}

/**
 * What the pieces in a machine would cost to buy again, what was given and what was bought apart. A batch's own price goes before its
 * part's. Each line is rounded, so that the lines as they are printed add up to the sums.
 */
export function sumParts(fitted: readonly FittedCount[], { ofBatch, ofPart }: Prices): PartsSum {
  const lines = new Map<string, PricedLine>()
  for (const { partId, batchId, isGift, count } of fitted) {
    const price = ofBatch.get(batchId) ?? ofPart.get(partId) ?? null
    const key = JSON.stringify([partId, isGift, price?.minor, price?.pieces])
    const line = lines.get(key) ?? { partId, isGift, count: 0, price, minor: null }
    line.count += count
    lines.set(key, line)
  }
  const all = [...lines.values()].map((line) => ({ ...line, minor: line.price && costOf(line.count, line.price) }))
  const sum = (isGift: boolean) => all.reduce((total, line) => total + (line.isGift === isGift ? (line.minor ?? 0) : 0), 0)
  return {
    lines: all,
    givenMinor: sum(true),
    boughtMinor: sum(false),
    unpriced: all.reduce((total, { minor, count }) => total + (minor === null ? count : 0), 0),
  }
}
