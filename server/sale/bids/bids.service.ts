import type { Minor } from '#kernel/money'
import type { Sight } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import type { Maximum } from '../price/price.rules'
import * as store from './bids.store'

export type { BidRow } from './bids.store'

/** The bid that was sent under a key, so that the same form sent again has one effect. */
export const findBid = (sight: Sight, key: string) => store.findBid(sight.db, key)
/** Every bid of a lot in order of arrival, voided ones too. */
export const listBidsOfLot = (sight: Sight, lotId: string) => store.listBidsOfLot(sight.db, lotId)
export const listBidsOfPerson = (sight: Sight, personId: string) => store.listBidsOfPerson(sight.db, personId)
export const listAllBids = (sight: Sight) => store.listAllBids(sight.db)
export const findLastBid = (sight: Sight, lotId: string, personId: string) => store.lastBidOf(sight.db, lotId, personId)

/** All bids of a lot that count, in order of arrival. */
export function listArrivals(sight: Sight, lotId: string): Maximum[] {
  const voided = new Set(listAliases(sight, lotId).flatMap(({ alias, voidedAt }) => (voidedAt === null ? [] : [alias])))
  return store
    .listBidsOfLot(sight.db, lotId)
    .filter(({ alias }) => !voided.has(alias))
    .map(({ alias: bidder, maximumMinor, sequence }) => ({ bidder, maximumMinor, sequence }))
}

/** Each bidder's highest maximum on a lot, the highest first and the earlier of equals; without those whose bids were voided. For the staff's use after the close. */
export function rankedBids(sight: Sight, lotId: string): { personId: string; maximumMinor: Minor }[] {
  const voided = new Set(listAliases(sight, lotId).flatMap(({ personId, voidedAt }) => (voidedAt === null ? [] : [personId])))
  const highest = new Map<string, { personId: string; maximumMinor: Minor; sequence: number }>()
  for (const { personId, maximumMinor, sequence } of store.listBidsOfLot(sight.db, lotId)) {
    if (voided.has(personId) || (highest.get(personId)?.maximumMinor ?? -1) >= maximumMinor) continue
    highest.set(personId, { personId, maximumMinor, sequence })
  }
  return [...highest.values()]
    .sort((a, b) => b.maximumMinor - a.maximumMinor || a.sequence - b.sequence)
    .map(({ personId, maximumMinor }) => ({ personId, maximumMinor }))
}
