import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import type { recountGiftIn } from './donor.contract'
import { isOutstanding, type Restriction } from './gift.rules'
import { arriveInParcel, changeGift, type GiftLine, getGift, noteChange, noteCounted } from './gift.service'
import { deleteGift, type GiftRow, giftRowsOf, moveGiftChanges, updateGift } from './gift.store'
import { moveTold } from './told.store'

// What the staff put right in a gift line afterwards. Each change keeps what was there before and why.

/** A count put right where no batch hangs on it: a promise, or a thing that is in no catalogue. */
export function recountGift(turn: Turn, actor: Actor, { giftId, quantity, reason }: z.output<typeof recountGiftIn>): GiftLine {
  const row = getGift(turn, giftId)
  if (row.minutes !== null || row.amountMinor !== null || row.kind === 'postage')
    throw Refusal.at('quantity', 'Help, money and postage are not counted in pieces.')
  if (quantity === 0 && isOutstanding(row.state)) throw Refusal.at('quantity', 'A promise of none is not a promise. Decline it instead.')
  noteCounted(turn, actor, giftId)
  if (row.quantity !== quantity) changeGift(turn, actor, row, 'quantity', { quantity }, reason)
  return getGift(turn, giftId)
}

/** What a gift is kept for, with what it was kept for before, in words of the caller's. */
export function restrictGift(
  turn: Turn,
  actor: Actor,
  row: GiftRow,
  { to, was, now, reason }: { to: Restriction; was: string; now: string; reason: string },
): void {
  updateGift(turn.db, row.id, to)
  noteChange(turn, actor, row, { what: 'restriction', was, now, reason })
  turn.record({ kind: 'gift.restriction-changed', subject: `gift:${row.id}`, body: { giftId: row.id, donorId: row.donorId, was, now } })
}

interface Named {
  id: string
  name: string
}

/** All gifts of one record go to another, each with a line of where it came from. */
export function handOverGifts(turn: Turn, actor: Actor, { from, to, reason }: { from: Named; to: Named; reason: string }): void {
  for (const row of giftRowsOf(turn.db, from.id)) {
    updateGift(turn.db, row.id, { donorId: to.id })
    noteChange(turn, actor, row, { what: 'donor', was: from.name, now: to.name, reason })
    turn.record({ kind: 'gift.donor-changed', subject: `gift:${row.id}`, body: { giftId: row.id, was: from.id, now: to.id } })
  }
}

/**
 * What came unknown turns out to be what was promised: the promise becomes what came, and takes over the history of
 * the line that was written down at its arrival. What hangs on that line is moved by the caller before it goes.
 */
export function joinPromise(
  turn: Turn,
  actor: Actor,
  { came, promiseId, moved }: { came: GiftRow; promiseId: string; moved(): void },
): void {
  if (came.parcelId === null) throw new Refusal('conflict', 'Only what came in a parcel can meet a promise.')
  arriveInParcel(turn, actor, { giftId: promiseId, came: came.quantity, howCounted: came.howCounted, parcelId: came.parcelId })
  updateGift(turn.db, promiseId, { state: came.state, arrivedAt: came.arrivedAt, thankedAt: came.thankedAt })
  moved()
  moveTold(turn.db, came.id, promiseId)
  moveGiftChanges(turn.db, came.id, promiseId)
  deleteGift(turn.db, came.id)
}
