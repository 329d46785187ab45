import { listDevices } from '#people/devices/devices.service'
import { pushKeysOf } from '#people/devices/push-keys'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { type LotRow, listLots } from '../lots/lots.service'
import { getShownRow } from '../lots/shown-lot.service'
import type { HowTold } from './told.contract'
import * as store from './wishes.store'

/** Every lot that somebody bids on, now and later. */
const MINE = 'mine'

/** Somebody wants their devices to be told of a lot, or of all that they bid on; or no more. */
export function want(turn: Turn, { personId }: Actor, { lot, wanted }: { lot: number | null; wanted: boolean }): void {
  const of = lot === null ? MINE : getShownRow(turn, lot).id
  if (wanted) store.insertWish(turn.db, { personId, of, at: turn.now })
  else store.deleteWish(turn.db, personId, of)
}

export function readHowTold(sight: Sight, { personId }: Actor): HowTold {
  const wishes = store.listWishesOf(sight.db, personId)
  return {
    key: pushKeysOf(sight.keys).publicKey,
    publicUrl: sight.publicUrl,
    devices: listDevices(sight, personId),
    mine: wishes.includes(MINE),
    lots: listLots(sight).flatMap(({ id, number, title }) => (wishes.includes(id) ? { number, title } : [])),
    zone: findPerson(sight, personId)?.zone ?? null,
  }
}

/** Whether somebody wants to be told of what happens to their bids on a lot. */
export const wants = (sight: Sight, personId: string, lotId: string): boolean =>
  store.listWishesOf(sight.db, personId).some((of) => of === MINE || of === lotId)

/** Who wants to be told of a lot: whoever named it, and whoever bids on it and wants to hear of all such. */
export function listFollowing(sight: Sight, { id }: Pick<LotRow, 'id'>): string[] {
  const bidders = new Set(listAliases(sight, id).flatMap(({ personId, voidedAt }) => (voidedAt === null ? personId : [])))
  const wishers = store.listWishers(sight.db, [MINE, id]).filter(({ personId, of }) => of === id || bidders.has(personId))
  return [...new Set(wishers.map(({ personId }) => personId))]
}
