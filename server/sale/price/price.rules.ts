import type { Currency, Minor } from '#kernel/money'
import { type Ladder, stepAt } from './ladder.rules'
import type { LateBid } from './late-bid.rules'

/** What was fixed when the lot opened and decides every price after it. */
export interface PriceTerms {
  currency: Currency
  openingMinor: Minor
  reserveMinor: Minor | null
  ladder: Ladder
  /** None in terms from before they had one: see `lateBidOf`. */
  lateBid?: LateBid | undefined
}

/** The most a bidder allows, and the place in the order of arrival of the bid that said so. */
export interface Maximum {
  bidder: string
  maximumMinor: Minor
  sequence: number
}

/** Who leads and who stands closest behind: all that the price depends on. */
export interface Pair {
  leader: Maximum | null
  second: Maximum | null
}

/** Why the price is what it is: the opening price, one step over the second, the leader's own maximum, the reserve. */
export type PriceReason = 'opening' | 'second' | 'cap' | 'reserve'

export type ReserveState = 'none' | 'unreached' | 'reached'

export interface Price {
  priceMinor: Minor
  why: PriceReason
}

/**
 * price = min(leader's maximum, max(opening, second + step(second), reserve if leader's maximum >= reserve)),
 * the second term absent with one bidder. Null while nobody has bid.
 */
export function priceOf(terms: PriceTerms, { leader, second }: Pair): Price | null {
  if (!leader) return null
  const { openingMinor, reserveMinor, ladder } = terms
  let price: Price = { priceMinor: openingMinor, why: 'opening' }
  if (second) {
    const over = second.maximumMinor + stepAt(ladder, second.maximumMinor)
    if (over >= price.priceMinor) price = { priceMinor: over, why: 'second' }
  }
  if (reserveMinor !== null && reserveMinor > price.priceMinor && reachesReserve(terms, leader)) {
    price = { priceMinor: reserveMinor, why: 'reserve' }
  }
  return leader.maximumMinor < price.priceMinor ? { priceMinor: leader.maximumMinor, why: 'cap' } : price
}

/** Whether a maximum is enough for the reserve; any is where there is none, and nobody's never is. */
export const reachesReserve = (
  { reserveMinor }: Pick<PriceTerms, 'reserveMinor'>,
  maximum: Pick<Maximum, 'maximumMinor'> | null,
): boolean => maximum !== null && (reserveMinor === null || maximum.maximumMinor >= reserveMinor)

/** What may be said of the reserve while the lot is open: never its amount. */
export function reserveOf(terms: Pick<PriceTerms, 'reserveMinor'>, leader: Maximum | null): ReserveState {
  if (terms.reserveMinor === null) return 'none'
  return reachesReserve(terms, leader) ? 'reached' : 'unreached'
}

/** The same from the standing bid, which is at the reserve or above it just where the leader's maximum is. */
export function reserveAt(reserveMinor: Minor | null, standingMinor: Minor | null): ReserveState {
  if (reserveMinor === null) return 'none'
  return standingMinor !== null && standingMinor >= reserveMinor ? 'reached' : 'unreached'
}

/** What the leader would pay if the hammer fell now; null when nobody bid or the reserve is not reached. */
export const hammerOf = (terms: PriceTerms, pair: Pair): Minor | null =>
  reachesReserve(terms, pair.leader) ? (priceOf(terms, pair)?.priceMinor ?? null) : null

/** The least a bid may be: the opening price, or the standing bid and one step. */
export function leastNext(terms: Pick<PriceTerms, 'openingMinor' | 'ladder'>, standingMinor: Minor | null): Minor {
  return standingMinor === null ? terms.openingMinor : standingMinor + stepAt(terms.ladder, standingMinor)
}

/** The least to which a leader may raise their own maximum: one step over it, so that a raise is worth the entry that it makes. */
export const leastRaise = ({ ladder }: Pick<PriceTerms, 'ladder'>, ownMinor: Minor): Minor => ownMinor + stepAt(ladder, ownMinor)

/** Whether a maximum would lead on its arrival. The earlier leads in a tie; a bidder never competes with themselves. */
export const wouldLead = ({ leader }: Pick<Pair, 'leader'>, { bidder, maximumMinor }: Omit<Maximum, 'sequence'>): boolean =>
  !leader || leader.bidder === bidder || maximumMinor > leader.maximumMinor

/** The pair after one more maximum has arrived. */
export function withMaximum({ leader, second }: Pair, arrival: Maximum): Pair {
  if (!leader || leader.bidder === arrival.bidder) return { leader: arrival, second }
  if (wouldLead({ leader }, arrival)) return { leader: arrival, second: leader }
  if (!second || second.bidder === arrival.bidder || arrival.maximumMinor > second.maximumMinor) return { leader, second: arrival }
  return { leader, second }
}

/** The pair of a whole list of maxima in order of arrival. */
export const pairOf = (arrivals: readonly Maximum[]): Pair =>
  [...arrivals].sort((a, b) => a.sequence - b.sequence).reduce<Pair>(withMaximum, { leader: null, second: null })
