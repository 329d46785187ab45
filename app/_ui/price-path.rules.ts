import type { History } from '#sale/history/history.contract'

/** One step of the price: what stood after an entry, who led, and what else is known of the bid that made it. */
export interface PathPoint {
  /** Place in the history, from 1. */
  entry: number
  at: number
  /** Null while nobody has bid, and after a void that left nobody. */
  standingMinor: number | null
  leader: string | null
  kind: 'bid' | 'voided' | 'end'
  alias: string | null
  /** The maximum once it is opened; null while it is sealed. */
  maximumMinor: number | null
}

export interface PricePath {
  points: PathPoint[]
  /** How many bids there were, of which a picture may leave some out. */
  bids: number
  reserveMinor: number | null
  topMinor: number
  openingMinor: number
  winner: string | null
  hammerMinor: number | null
}

/** The price path of a history, for a picture of it: read from its entries, which a check has looked at. */
export function pricePathOf({ leaves }: History): PricePath {
  const revealed = leaves.find((leaf) => leaf.kind === 'revealed')
  const opened = leaves.find((leaf) => leaf.kind === 'opened')
  const closed = leaves.find((leaf) => leaf.kind === 'closed')
  const maxima = new Map(revealed?.kind === 'revealed' ? revealed.openings.map(({ sequence, amountMinor }) => [sequence, amountMinor]) : [])
  const points = leaves.flatMap((leaf, index): PathPoint[] => {
    const common = { entry: index + 1, at: Date.parse(leaf.at) }
    if (leaf.kind === 'bid') {
      const { standingMinor, leader, alias, sequence } = leaf
      return [{ ...common, kind: 'bid', standingMinor, leader, alias, maximumMinor: maxima.get(sequence) ?? null }]
    }
    if (leaf.kind === 'voided')
      return [{ ...common, kind: 'voided', standingMinor: leaf.standingMinor, leader: leaf.leader, alias: leaf.alias, maximumMinor: null }]
    if (leaf.kind === 'closed')
      return [{ ...common, kind: 'end', standingMinor: leaf.hammerMinor, leader: leaf.leader, alias: null, maximumMinor: null }]
    return []
  })
  const reserveMinor = revealed?.kind === 'revealed' ? (revealed.reserve?.amountMinor ?? null) : null
  const openingMinor = opened?.kind === 'opened' ? opened.terms.openingMinor : 0
  const amounts = points.flatMap(({ standingMinor, maximumMinor }) => [standingMinor ?? 0, maximumMinor ?? 0])
  const isSold = closed?.kind === 'closed' && closed.result === 'sold'
  return {
    points,
    bids: points.filter(({ kind }) => kind === 'bid').length,
    reserveMinor,
    openingMinor,
    topMinor: Math.max(1, openingMinor, reserveMinor ?? 0, ...amounts),
    winner: isSold ? closed.leader : null,
    hammerMinor: isSold ? closed.hammerMinor : null,
  }
}

/**
 * The same path with at most so many steps, for a picture: the first, the last, and of those between the ones that stand
 * evenly apart. What it came to is as before.
 */
export function thinned(path: PricePath, most: number): PricePath {
  const { points } = path
  if (points.length <= most) return path
  const apart = (points.length - 1) / (most - 1)
  return { ...path, points: Array.from({ length: most }, (_, index) => points[Math.round(index * apart)] as PathPoint) }
}

/** "The price rose in 4 bids from £20 to £165; 4K won." */
export function sayPath({ points, bids: many, winner }: PricePath, show: (amount: number) => string): string {
  const bids = points.filter(({ kind }) => kind === 'bid')
  const [first, last] = [bids[0], bids.at(-1)]
  if (!first || !last) return 'Nobody bid.'
  const rose =
    many === 1
      ? `One bid, at ${show(first.standingMinor ?? 0)}`
      : `${many} bids, from ${show(first.standingMinor ?? 0)} to ${show(last.standingMinor ?? 0)}`
  return `${rose}${winner ? `; ${winner} won` : ''}.`
}
