import type { Minor } from '#kernel/money'
import type { Sight } from '#runtime/queue/turn'
import * as store from './bids.store'

/** Each bidder's highest maximum on a lot, the highest first and the earlier of equals; without those whose bids were voided. For the staff's use after the close. */
export function rankedBids(sight: Sight, lotId: string): { personId: string; maximumMinor: Minor }[] {
  const voided = new Set(store.listAliases(sight.db, lotId).flatMap(({ personId, voidedAt }) => (voidedAt === null ? [] : [personId])))
  const highest = new Map<string, { personId: string; maximumMinor: Minor; sequence: number }>()
  for (const { personId, maximumMinor, sequence } of store.listBidsOfLot(sight.db, lotId)) {
    if (voided.has(personId) || (highest.get(personId)?.maximumMinor ?? -1) >= maximumMinor) continue
    highest.set(personId, { personId, maximumMinor, sequence })
  }
  return [...highest.values()]
    .sort((a, b) => b.maximumMinor - a.maximumMinor || a.sequence - b.sequence)
    .map(({ personId, maximumMinor }) => ({ personId, maximumMinor }))
}
