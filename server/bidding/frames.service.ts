import type { LotCard } from '../lots/lots.contract'
import { findLot, listPublicLots } from '../lots/lots.service'
import type { Sight } from '../runtime/turn'
import type { LotFrame, LotsFrame } from './bidding.contract'

/** The whole public state of one lot; null for a draft or none. */
export function lotFrame(sight: Sight, number: number): LotFrame | null {
  const card = findLot(sight, number)
  return card ? frameOf(card, sight.now) : null
}

export const lotsFrame = (sight: Sight): LotsFrame => ({
  lots: listPublicLots(sight).flatMap((card) => frameOf(card, sight.now) ?? []),
  serverNow: sight.now,
})

function frameOf(card: LotCard, serverNow: number): LotFrame | null {
  const { number, unit, title, state, currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, bids, reserve } = card
  const { closesAt, endedAt, leaderAlias, extendedTimes, heldSince, heldReason, ledgerSize, headHash } = card
  if (state === 'draft') return null
  const money = { currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, bids, reserve, leaderAlias }
  return { number, unit, title, state, ...money, closesAt, endedAt, extendedTimes, heldSince, heldReason, ledgerSize, headHash, serverNow }
}
