import type { Instant } from '#kernel/instant'
import type { Actor, Turn } from '#runtime/queue/turn'
import { insertParcel, type ParcelRow } from './parcel.store'

/** A parcel that came before it was noted here: under the day on which it came. Its gifts are kept by who calls. */
export function keepEarlierParcel(turn: Turn, actor: Actor, parcel: { donorId: string; arrivedAt: Instant; note: string }): ParcelRow {
  const row: ParcelRow = { id: turn.dice.id(), ...parcel, photoSha: null, byPersonId: actor.personId }
  insertParcel(turn.db, row)
  turn.record({ kind: 'parcel.noted', subject: `parcel:${row.id}`, body: { parcelId: row.id, donorId: row.donorId } })
  return row
}
