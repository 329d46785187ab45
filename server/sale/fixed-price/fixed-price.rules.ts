import { bytesToHex } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import type { Instant } from '#kernel/instant'
import { type Currency, type Minor, showMoney } from '#kernel/money'
import { sha256 } from '#kernel/sha256'
import type { FixedPrice, FixedPriceEnd, FixedPriceTerms } from './fixed-price.contract'

export interface OfferedAt {
  priceMinor: Minor
  lastDay: string | null
  ended: FixedPriceEnd | null
  endedAt: Instant | null
  fellThroughAt: Instant | null
}

/** What anybody is told of the offers of one lot, the newest first: a machine that is not fit to be sold is not offered meanwhile. */
export function shownPrice(offers: readonly OfferedAt[], isFit: () => boolean): FixedPrice | null {
  const standing = offers.find(({ ended }) => ended === null)
  if (standing) return isFit() ? { is: 'to be had', priceMinor: standing.priceMinor, lastDay: standing.lastDay } : null
  const sold = offers.find(({ ended, fellThroughAt }) => ended === 'taken' && fellThroughAt === null)
  return sold?.endedAt ? { is: 'sold', priceMinor: sold.priceMinor, soldAt: sold.endedAt } : null
}

export interface OfferableFacts {
  number: number
  state: 'draft' | 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'
  /** A sale of it stands, by whatever contract. */
  isSold: boolean
  /** An offer to the underbidder waits for its answer. */
  isOffered: boolean
  /** The unit has gone into another lot since; its number. */
  newLot: number | null
  /** Why the unit cannot be sold as it stands. */
  gap: string | null
  hasPostage: boolean
}

/** Why a lot cannot be offered at a fixed price now, in words; null where it can. */
export function whyNotOffered({ number, state, isSold, isOffered, newLot, gap, hasPostage }: OfferableFacts): string | null {
  if (state !== 'sold' && state !== 'unsold' && state !== 'withdrawn')
    return `Lot ${number} has not ended. It can go at a fixed price once it has, if nobody has it then.`
  if (isSold) return `Lot ${number} is sold. It can go at a fixed price if its sale falls through.`
  if (isOffered) return `Lot ${number} is offered to the next bidder. Wait for the answer, or take that offer back first.`
  if (newLot !== null) return `Its machine is in lot ${newLot} now.`
  if (gap !== null) return gap
  return hasPostage ? null : `Lot ${number} has no postage, so nobody could be told what it costs to send. Put the unit in a new lot.`
}

/** Why the machine of a lot cannot go into a new one. */
export const whyNoNewLot = (tag: string, lot: number, is: FixedPrice['is']): string =>
  is === 'sold'
    ? `${tag} was sold at a fixed price, as lot ${lot}.`
    : `${tag} can be had at a fixed price, as lot ${lot}. Take that back first.`

/** Names all that somebody says yes to: with another postage, or another way to cancel, it is not what they read. */
export const digestOfWhatIsSeen = (what: { priceMinor: Minor; postageMinor: Minor; terms: FixedPriceTerms }): string =>
  bytesToHex(sha256(canonicalize(what) ?? ''))

/** Why a yes that was said comes to nothing; null where it is a contract. */
export function whyTooLate(
  {
    standing,
    last,
    now,
    seenMinor,
  }: { standing: (OfferedAt & { openUntil: Instant | null }) | null; last: OfferedAt | null; now: Instant; seenMinor: Minor },
  currency: Currency,
): string | null {
  if (!standing) {
    if (last?.ended === 'taken') return 'Somebody else was first: it is sold. You owe nothing, and nothing was charged.'
    if (last?.ended === 'taken back') return 'The price was taken back before you said yes, so it cannot be had any more. You owe nothing.'
    return 'It cannot be had at a fixed price any more. You owe nothing.'
  }
  if (standing.openUntil !== null && now >= standing.openUntil)
    return 'Its last day is over, so it cannot be had any more. You owe nothing.'
  if (standing.priceMinor !== seenMinor)
    return `The price has changed to ${showMoney(standing.priceMinor, currency)} since you saw it. Nothing was bought. Look at it again, and say yes if you still want it.`
  return null
}
