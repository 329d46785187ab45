import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { ParcelPostage, PostageAccount } from './sending.contract'

export interface LotCharged {
  lotId: string
  lot: number
  /** Lots with the same one go together. */
  parcel: string
  sentAt: Instant | null
  chargedMinor: Minor
}

/** What was charged beside what it cost, parcel by parcel. Every cost is in a parcel or among the others, and none in two. */
export function postageAccount(lots: readonly LotCharged[], costs: ReadonlyMap<string | null, Minor>): Omit<PostageAccount, 'currency'> {
  const parcels = new Map<string, ParcelPostage>()
  const left = new Map(costs)
  for (const { lotId, lot, parcel, sentAt, chargedMinor } of lots) {
    const before = parcels.get(parcel) ?? { lots: [], sentAt, chargedMinor: 0, costMinor: null }
    const cost = left.get(lotId)
    left.delete(lotId)
    parcels.set(parcel, {
      lots: [...before.lots, lot],
      sentAt: before.sentAt ?? sentAt,
      chargedMinor: before.chargedMinor + chargedMinor,
      costMinor: cost === undefined ? before.costMinor : (before.costMinor ?? 0) + cost,
    })
  }
  const sum = (minors: Iterable<Minor>) => [...minors].reduce((all, minor) => all + minor, 0)
  const all = [...parcels.values()]
  return {
    parcels: all,
    otherMinor: sum(left.values()),
    chargedMinor: sum(all.map(({ chargedMinor }) => chargedMinor)),
    costMinor: sum(costs.values()),
  }
}
