import type { Minor } from '#kernel/money'
import { coverReceipts } from '../journal/covering.rules'
import { type MatchFacts, matchAll, standingForCause } from '../matching/matching.rules'

/** The four exclusive states of every penny that counts towards the target, and what is left to it. */
export interface Proceeds {
  targetMinor: Minor
  bidMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
  remittedMinor: Minor
  /** Gifts of money, a part of paid and remitted. */
  giftMinor: Minor
  /** Matched giving, a part of each of the four. */
  matchedMinor: Minor
  /** What of it the matchers have sent; the rest is only promised. */
  matchedReceivedMinor: Minor
  /** The four states together: what counts towards the target, before costs. */
  countedMinor: Minor
  toGoMinor: Minor
}

export interface CountOf extends MatchFacts {
  targetMinor: Minor
}

/** Hammer × share + gifts of money + matched giving, before costs; postage never, bids under an unreached reserve not. */
export function countProceeds(input: CountOf): Proceeds {
  const { accounts, gifts, matched: matchedPot } = coverReceipts(input.entries)
  const bids = standingForCause(input.lots, input.shareBp)
  const matched = matchAll(input)
  const bidMinor = bids + total(matched, 'bidMinor')
  const wonMinor = total(accounts, 'wonMinor') + total(matched, 'wonMinor')
  const received = total(accounts, 'paidMinor') + gifts.receivedMinor + matchedPot.receivedMinor
  const paidMinor = received - gifts.remittedMinor - matchedPot.remittedMinor
  const remittedMinor = total(accounts, 'remittedMinor') + gifts.remittedMinor + matchedPot.remittedMinor
  const countedMinor = bidMinor + wonMinor + paidMinor + remittedMinor
  return {
    targetMinor: input.targetMinor,
    bidMinor,
    wonMinor,
    paidMinor,
    remittedMinor,
    giftMinor: gifts.receivedMinor,
    matchedMinor: total(matched, 'bidMinor') + total(matched, 'wonMinor') + matchedPot.receivedMinor,
    matchedReceivedMinor: matchedPot.receivedMinor,
    countedMinor,
    toGoMinor: Math.max(0, input.targetMinor - countedMinor),
  }
}

const total = <Key extends string>(rows: readonly Record<Key, Minor>[], key: Key): Minor => rows.reduce((sum, row) => sum + row[key], 0)
