import { invariant } from '#kernel/invariant'
import type { Minor } from '#kernel/money'
import type { Sight, Turn } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import type { Receipt } from '../history/history.contract'
import { ofBid, openFigure, sealFigure } from '../lots/sealed-figures'
import type { Maximum } from '../price/price.rules'
import type { BidAnswer } from './bids.contract'
import * as store from './bids.store'

/** A bid with its maximum opened. */
export interface BidRow extends Omit<store.FoundBid, 'sealed'> {
  maximumMinor: Minor
  nonce: string
}

/** As it is kept: the maximum and the random bytes of its commitment are sealed, and the answer repeats neither. */
type KeptAnswer = Omit<BidAnswer, 'maximumMinor' | 'receipt'> & { receipt: Omit<Receipt, 'opening'> }

function opened({ keys }: Sight, { sealed, ...row }: store.FoundBid): BidRow {
  const { amountMinor, nonce } = openFigure(keys, ofBid(row.lot, row.sequence), sealed)
  return { ...row, maximumMinor: amountMinor, nonce }
}

export function insertBid({ db, keys }: Turn, { lot, maximumMinor, nonce, ...row }: Omit<BidRow, 'answer'>, answer: BidAnswer): void {
  const { maximumMinor: _maximum, receipt, ...told } = answer
  const { opening: _opening, ...open } = receipt
  const kept: KeptAnswer = { ...told, receipt: open }
  const sealed = sealFigure(keys, ofBid(lot, row.sequence), maximumMinor, nonce)
  store.insertBid(db, { ...row, sealed, answer: JSON.stringify(kept) })
}

/** What the bidder was told when the bid was taken. */
export function answerOf({ answer, lot, alias, sequence, maximumMinor, nonce }: BidRow): BidAnswer {
  const { lot: _lot, alias: _alias, receipt, ...told } = JSON.parse(answer) as KeptAnswer
  const opening = { lot, alias, sequence, amountMinor: maximumMinor, nonce }
  return { lot, alias, maximumMinor, ...told, receipt: { ...receipt, opening } }
}

/** The bid that was sent under a key, so that the same form sent again has one effect. */
export function findBid(sight: Sight, key: string): BidRow | null {
  const found = store.findBid(sight.db, key)
  return found ? opened(sight, found) : null
}
/** Every bid of a lot in order of arrival, voided ones too. */
export const listBidsOfLot = (sight: Sight, lotId: string): BidRow[] =>
  store.listBidsOfLot(sight.db, lotId).map((row) => opened(sight, row))
export const listBidsOfPerson = (sight: Sight, personId: string): BidRow[] =>
  store.listBidsOfPerson(sight.db, personId).map((row) => opened(sight, row))
export const listAllBids = (sight: Sight): BidRow[] => store.listAllBids(sight.db).map((row) => opened(sight, row))
export function findLastBid(sight: Sight, lotId: string, personId: string): BidRow | null {
  const found = store.lastBidOf(sight.db, lotId, personId)
  return found ? opened(sight, found) : null
}

/** The maximum that a bid said, by its place in the order of arrival. */
export function maximumAt(sight: Sight, lotId: string, sequence: number): Maximum {
  const found = store.bidAt(sight.db, lotId, sequence)
  invariant(found, 'who stands first in a lot stands there by a bid')
  const { alias: bidder, maximumMinor } = opened(sight, found)
  return { bidder, maximumMinor, sequence }
}

/** All bids of a lot that count, in order of arrival. */
export function listArrivals(sight: Sight, lotId: string): Maximum[] {
  const voided = new Set(listAliases(sight, lotId).flatMap(({ alias, voidedAt }) => (voidedAt === null ? [] : [alias])))
  return listBidsOfLot(sight, lotId)
    .filter(({ alias }) => !voided.has(alias))
    .map(({ alias: bidder, maximumMinor, sequence }) => ({ bidder, maximumMinor, sequence }))
}

/** Each bidder's highest maximum on a lot, the highest first and the earlier of equals; without those whose bids were voided. For the staff's use after the close. */
export function rankedBids(sight: Sight, lotId: string): { personId: string; maximumMinor: Minor }[] {
  const voided = new Set(listAliases(sight, lotId).flatMap(({ personId, voidedAt }) => (voidedAt === null ? [] : [personId])))
  const highest = new Map<string, { personId: string; maximumMinor: Minor; sequence: number }>()
  for (const { personId, maximumMinor, sequence } of listBidsOfLot(sight, lotId)) {
    if (voided.has(personId) || (highest.get(personId)?.maximumMinor ?? -1) >= maximumMinor) continue
    highest.set(personId, { personId, maximumMinor, sequence })
  }
  return [...highest.values()]
    .sort((a, b) => b.maximumMinor - a.maximumMinor || a.sequence - b.sequence)
    .map(({ personId, maximumMinor }) => ({ personId, maximumMinor }))
}
