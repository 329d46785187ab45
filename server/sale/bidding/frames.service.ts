import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { listVoidedAliases } from '../bidders/aliases.service'
import type { LotCard } from '../lots/lots.contract'
import { findBareLot, listPublicLots } from '../lots/lots.service'
import type { LotFrame, LotsFrame } from './bidding.contract'

/** The whole public state of one lot; null for a draft or none. */
export function lotFrame(sight: Sight, number: number): LotFrame | null {
  const card = findBareLot(sight, number)
  return card ? frameOf(card, voidedByLot(sight), sight.now) : null
}

export function lotsFrame(sight: Sight): LotsFrame {
  const voided = voidedByLot(sight)
  return { lots: listPublicLots(sight).flatMap((card) => frameOf(card, voided, sight.now) ?? []), serverNow: sight.now }
}

const voidedByLot = (sight: Sight): Map<string, { alias: string }[]> => groupBy(listVoidedAliases(sight), ({ lotId }) => lotId)

function frameOf(card: LotCard, voided: ReturnType<typeof voidedByLot>, serverNow: number): LotFrame | null {
  const { number, unit, title, state, currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, bids, reserve } = card
  const { closesAt, lateBid, endedAt, leaderAlias, extendedTimes, heldSince, heldReason, corrections, ledgerSize, headHash, fixedPrice } =
    card
  if (state === 'draft') return null
  const stands = card.standsMinor === undefined ? {} : { standsMinor: card.standsMinor }
  const money = { currency, standingMinor, leastNextMinor, openingMinor, hammerMinor, ...stands, bids, reserve, leaderAlias }
  const voidedAliases = (voided.get(card.id) ?? []).map(({ alias }) => alias)
  const clock = { closesAt, lateBid, endedAt, extendedTimes, heldSince, heldReason, serverNow }
  return { number, unit, title, state, ...money, ...clock, voidedAliases, corrections, ledgerSize, headHash, fixedPrice }
}
