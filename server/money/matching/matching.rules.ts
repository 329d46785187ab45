import type { Minor } from '#kernel/money'
import { coverReceipts } from '../journal/covering.rules'
import { causeShare, WHOLE_BP } from '../journal/journal.rules'
import { type JournalEntry, sumOf } from '../journal/lot-account.rules'

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

export interface StandingLot {
  isOpen: boolean
  standingMinor: Minor | null
  reserve: 'none' | 'unreached' | 'reached'
  /** What its terms promise the cause; the campaign's share unless it is said. */
  shareBp?: number | undefined
}

/** All that the promises hang on. */
export interface MatchFacts {
  lots: readonly StandingLot[]
  entries: readonly JournalEntry[]
  promises: readonly MatchPromise[]
  /** The campaign's. */
  shareBp: number
}

/** Each promise on the same base: matched money is never matched again. */
export function matchAll(input: MatchFacts): Matched[] {
  if (input.promises.length === 0) return []
  const { accounts, gifts } = coverReceipts(input.entries)
  const base: Matchable = {
    lots: {
      bidMinor: standingForCause(input.lots, input.shareBp),
      wonMinor: total(accounts, 'wonMinor'),
      inBankMinor: total(accounts, 'paidMinor') + total(accounts, 'remittedMinor'),
    },
    giftMinor: gifts.receivedMinor,
  }
  return input.promises.map((promise) => {
    const received = 0 - sumOf(input.entries, 'owed-to-cause', ({ promiseId }) => promiseId === promise.id)
    return matchedBy(promise, base, received)
  })
}

/** What standing bids would bring the cause; those below an unreached reserve bring nothing. */
export const standingForCause = (lots: readonly StandingLot[], shareBp: number): Minor =>
  lots
    .filter((lot) => lot.isOpen && lot.reserve !== 'unreached')
    .reduce((sum, lot) => sum + causeShare(lot.standingMinor ?? 0, lot.shareBp ?? shareBp), 0)

const total = <Key extends string>(rows: readonly Record<Key, Minor>[], key: Key): Minor => rows.reduce((sum, row) => sum + row[key], 0)

/** "100", "50 %" or "12,5": so much for each hundred. Null for what is no such thing. */
export function matchRatio(percent: string): number | null {
  const bare = percent.normalize('NFKC').replaceAll(/[\s%]/g, '').replace(',', '.')
  if (!/^\d{1,5}(\.\d{1,2})?$/.test(bare)) return null
  const bp = Math.round(Number(bare) * 100)
  return bp >= 1 && bp <= 1_000_000 ? bp : null
}
