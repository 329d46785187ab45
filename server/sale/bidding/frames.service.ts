import type { Sight } from '#runtime/queue/turn'
import type { LotCard } from '../lots/lots.contract'
import { findBareLot, listPublicLots } from '../lots/lots.service'
import type { LotFrame, LotsFrame } from './bidding.contract'

/** The whole public state of one lot; null for a draft or none. */
export function lotFrame(sight: Sight, number: number): LotFrame | null {
  const card = findBareLot(sight, number)
  return card ? frameOf(card, sight.now) : null
}

export const lotsFrame = (sight: Sight): LotsFrame => ({
  lots: listPublicLots(sight).flatMap((card) => frameOf(card, sight.now) ?? []),
  serverNow: sight.now,
})

function frameOf(card: LotCard, serverNow: number): LotFrame | null {
  const { number, unit, title, state, currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, bids, reserve } = card
  const { closesAt, lateBid, endedAt, leaderAlias, extendedTimes, heldSince, heldReason, corrections, ledgerSize, headHash } = card
  if (state === 'draft') return null
  const money = { currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, bids, reserve, leaderAlias }
  const clock = { closesAt, lateBid, endedAt, extendedTimes, heldSince, heldReason, serverNow }
  return { number, unit, title, state, ...money, ...clock, corrections, ledgerSize, headHash }
}
