import type { Minor } from '#kernel/money'
import { WHOLE_BP } from './journal.rules'

/** What is matched: the cause's part of the lots, gifts of money, or both. Matched money itself never is. */
export const MATCH_BASES = ['lots and gifts', 'lots', 'gifts'] as const
export type MatchBase = (typeof MATCH_BASES)[number]

export interface MatchPromise {
  id: string
  base: MatchBase
  /** 10,000 is pound for pound, 5,000 half as much, 20,000 two for one. */
  ratioBp: number
  capMinor: Minor
  /** Ended early: nothing more becomes due; what came in stays. */
  isEnded: boolean
}

/** The base by how sure it is. Each figure holds only its own: bids are not in won, won not in paid. */
export interface Matchable {
  lots: { bidMinor: Minor; wonMinor: Minor; inBankMinor: Minor }
  giftMinor: Minor
}

/** One promise: each penny of it in one state. `paidMinor` is what the matcher has sent. */
export interface Matched {
  promiseId: string
  bidMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
  /** What the matcher is asked for: earned by money in the bank and not yet sent. A part of `wonMinor`. */
  dueMinor: Minor
  isCapped: boolean
}

/** So many minor units for a base, never above the cap. Fractions of a penny fall off. */
export const matchOf = (baseMinor: Minor, promise: Pick<MatchPromise, 'ratioBp' | 'capMinor'>): Minor =>
  Math.min(promise.capMinor, Number((BigInt(baseMinor) * BigInt(promise.ratioBp)) / BigInt(WHOLE_BP)))

/**
 * What was promised counts as the money that earned it does: for a standing bid as a bid, from the hammer on as
 * won, and as paid once the matcher has sent it. Sent beforehand, it takes the place of what later earns it.
 */
export function matchedBy(promise: MatchPromise, base: Matchable, receivedMinor: Minor): Matched {
  const lots = promise.base === 'gifts' ? { bidMinor: 0, wonMinor: 0, inBankMinor: 0 } : base.lots
  const gifts = promise.base === 'lots' ? 0 : base.giftMinor
  const upTo = (baseMinor: Minor) => (promise.isEnded ? receivedMinor : Math.max(receivedMinor, matchOf(baseMinor, promise)))
  const earned = upTo(lots.inBankMinor + gifts)
  const hammered = upTo(lots.inBankMinor + gifts + lots.wonMinor)
  const withBids = upTo(lots.inBankMinor + gifts + lots.wonMinor + lots.bidMinor)
  return {
    promiseId: promise.id,
    bidMinor: withBids - hammered,
    wonMinor: hammered - receivedMinor,
    paidMinor: receivedMinor,
    dueMinor: earned - receivedMinor,
    isCapped: withBids >= promise.capMinor,
  }
}

/** "100", "50 %" or "12,5": so much for each hundred. Null for what is no such thing. */
export function matchRatio(percent: string): number | null {
  const bare = percent.normalize('NFKC').replaceAll(/[\s%]/g, '').replace(',', '.')
  if (!/^\d{1,5}(\.\d{1,2})?$/.test(bare)) return null
  const bp = Math.round(Number(bare) * 100)
  return bp >= 1 && bp <= 1_000_000 ? bp : null
}
