import type { Sight } from '#runtime/queue/turn'
import { findAddress } from './address.service'
import { type DispatchFacts, whyNotSent } from './packing.rules'
import { packedItems, toPack } from './packing.service'
import type { PackedItem } from './sending.contract'
import * as store from './sending.store'
import { inParcelOf } from './together.service'
import { getToSend } from './won.service'

/** What decides where the sending of a lot stands, with its items as they are packed. */
export function readFacts(sight: Sight, number: number): DispatchFacts & { packed: PackedItem[] } {
  const { owedMinor } = getToSend(sight, number)
  const { row, items, serial, buyerPersonId } = toPack(sight, number)
  const consignment = store.findConsignment(sight.db, row.id)
  const packed = packedItems(sight, row.id, items)
  return {
    packed,
    owedMinor,
    hasAddress: findAddress(sight, row.id, buyerPersonId) !== null,
    items: packed.map(({ key, packedAt }) => ({ key, isPacked: packedAt !== null })),
    wanted: packed.map(({ key, what, wantsPhotograph, photographs }) => ({
      key,
      what,
      wantsPhotograph,
      hasPhotograph: photographs.length > 0,
    })),
    sentAt: consignment?.sentAt ?? null,
    arrivedAt: consignment?.arrivedAt ?? null,
    cells: consignment?.cells ?? 'unsaid',
    mains: consignment?.mains ?? 'unsaid',
    weightGrams: consignment?.weightGrams ?? null,
    serial,
  }
}

/** All that keeps a parcel from leaving, of each lot in it; empty when it may go. */
export function whyParcelStays(sight: Sight, number: number): string[] {
  const together = inParcelOf(sight, number)
  if (together.length === 1) return whyNotSent(readFacts(sight, number))
  return together.flatMap(({ sold }) => whyNotSent(readFacts(sight, sold.number)).map((words) => `Lot ${sold.number}: ${words}`))
}
