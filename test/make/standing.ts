import { stepAt } from '#sale/price/ladder.rules'
import type { PriceTerms } from '#sale/price/price.rules'

/** A bid that counts, as the plainest model keeps it. */
export interface PlainBid {
  bidder: string
  maximumMinor: number
}

/** Who leads and what they pay, by sorting everything anew: an oracle that shares nothing with the rule but the formula. `bids` are in order of arrival. */
export function standingOf(terms: PriceTerms, bids: readonly PlainBid[]): { leader: string | null; price: number; maximum: number } {
  const last = new Map(bids.map((bid, order) => [bid.bidder, { ...bid, order }]))
  const [first, second] = [...last.values()].sort((a, b) => b.maximumMinor - a.maximumMinor || a.order - b.order)
  if (!first) return { leader: null, price: 0, maximum: 0 }
  const over = second ? second.maximumMinor + stepAt(terms.ladder, second.maximumMinor) : 0
  const reserve = terms.reserveMinor !== null && first.maximumMinor >= terms.reserveMinor ? terms.reserveMinor : 0
  return {
    leader: first.bidder,
    price: Math.min(first.maximumMinor, Math.max(terms.openingMinor, over, reserve)),
    maximum: first.maximumMinor,
  }
}

/** The least that a bidder may say next. */
export function leastOf(terms: PriceTerms, { leader, price, maximum }: ReturnType<typeof standingOf>, bidder: string): number {
  if (leader === null) return terms.openingMinor
  return leader === bidder ? maximum + stepAt(terms.ladder, maximum) : price + stepAt(terms.ladder, price)
}
