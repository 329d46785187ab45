import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import type { Minor } from '#kernel/money'

/** What is known of a lot that is not over: its standing bid, and what the maker thought before bidding. */
export interface LotToCome {
  number: number
  title: string
  isOpen: boolean
  standingMinor: Minor | null
  openingMinor: Minor | null
  lowMinor: Minor | null
  likelyMinor: Minor | null
  highMinor: Minor | null
  /** What its terms promise the cause; the campaign's share unless it is said. */
  shareBp?: number | undefined
}

/**
 * On what a lot's outlook rests. `estimate`: low, likely and high. `range`: low and high, all between alike.
 * `one figure`: an estimate without a spread. `passed`: the bid stands above the high estimate. `bid alone`:
 * there is no estimate. `nothing`: neither bid nor estimate.
 */
export type Basis = 'estimate' | 'range' | 'one figure' | 'passed' | 'bid alone' | 'nothing'

export interface Outlook {
  lot: LotToCome
  basis: Basis
  /** Least and most that the hammer can come to; nought where it may stay unsold. */
  leastMinor: Minor
  mostMinor: Minor
  /** The chance that the hammer price is at most this; unsold is nought. */
  atMost(minor: number): number
}

/**
 * A lot's hammer price, given that it is at least what stands. Below its opening price it stays unsold. Its reserve is left out:
 * from a chance that knew of it anybody could work it out to the penny.
 */
export function outlookOf(lot: LotToCome): Outlook {
  const { lowMinor: low, likelyMinor: likely, highMinor: high, standingMinor } = lot
  const standing = standingMinor ?? 0
  const sellsFrom = standingMinor === null ? (lot.openingMinor ?? 0) : 0
  const fixed = (basis: Basis, at: Minor): Outlook => {
    const minor = at >= sellsFrom ? at : 0
    return { lot, basis, leastMinor: minor, mostMinor: minor, atMost: (x) => (x >= minor ? 1 : 0) }
  }
  const figure = likely ?? low ?? high
  if (figure === null) return standingMinor === null ? fixed('nothing', 0) : fixed('bid alone', standing)
  if (low === null || high === null || low === high) return figure < standing ? fixed('passed', standing) : fixed('one figure', figure)
  if (standing >= high) return fixed('passed', standing)
  const above = likely === null ? (x: number) => 1 - uniformCdf(x, low, high) : (x: number) => pertAbove(x, low, likely, high)
  // By what is left above, which keeps its digits where almost all lies below: 1 − (1 − 10⁻¹⁹) would be nought.
  const left = above(standing)
  const given = (x: number) => (x < standing ? 0 : 1 - above(x) / left)
  const unsold = sellsFrom > Math.max(standing, low) ? given(sellsFrom) : 0
  return {
    lot,
    basis: likely === null ? 'range' : 'estimate',
    leastMinor: unsold > 0 ? 0 : Math.max(standing, low),
    mostMinor: sellsFrom > high ? 0 : high,
    atMost: (x) => (x < 0 ? 0 : unsold > 0 && x < sellsFrom ? unsold : given(x)),
  }
}

/** Everything between two ends alike. */
export const uniformCdf = (x: number, low: number, high: number): number => within(x, low, high)

/** Where something lies between two ends, from 0 to 1. */
const within = (x: number, low: number, high: number): number => Math.min(1, Math.max(0, (x - low) / (high - low)))

/**
 * The three-point estimate as a beta distribution whose mean is (low + 4 likely + high) / 6: α = 1 + 4 (likely − low) / (high − low),
 * β = 1 + 4 (high − likely) / (high − low). Malcolm, Roseboom, Clark and Fazar 1959, in the form that keeps α + β = 6 (from memory).
 */
export function pertCdf(x: number, low: number, likely: number, high: number): number {
  const [alpha, beta] = pertShape(low, likely, high)
  return betaCdf(within(x, low, high), alpha, beta)
}

/** The chance of more than this, to its own last digit: the same distribution seen from its high end. */
function pertAbove(x: number, low: number, likely: number, high: number): number {
  const [alpha, beta] = pertShape(low, likely, high)
  return betaCdf(within(high - x + low, low, high), beta, alpha)
}

export const pertShape = (low: number, likely: number, high: number): [alpha: number, beta: number] => [
  1 + (4 * (likely - low)) / (high - low),
  1 + (4 * (high - likely)) / (high - low),
]
