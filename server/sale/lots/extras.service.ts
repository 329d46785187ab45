import { Refusal } from '#kernel/refusal'
import type { Sight, Turn } from '#runtime/queue/turn'
import { getLotRow, listLots } from './lots.service'
import * as store from './lots.store'

/** The gifts that go with a lot as extras. */
export const extraGiftsOf = (sight: Sight, lotId: string): string[] =>
  store.listExtras(sight.db, lotId).flatMap(({ giftId }) => giftId ?? [])

/** With which lots these gifts go. */
export const lotsOfExtras = (sight: Sight, giftIds: readonly string[]): { giftId: string; lotId: string }[] =>
  store.extrasOfGifts(sight.db, giftIds).flatMap(({ giftId, lotId }) => (giftId === null ? [] : [{ giftId, lotId }]))

/** Lots to which an extra can still be added: their terms are not fixed yet. */
export const listOpenForExtras = (sight: Sight): { number: number; title: string }[] =>
  listLots(sight)
    .filter(({ state }) => state === 'draft' || state === 'ready')
    .map(({ number, title }) => ({ number, title }))

/** A gift goes with a lot, in the words that stand on its page; the credits of the lot name its giver. With no lot it goes with none. */
export function putWithLot(turn: Turn, gift: { id: string; words: string }, number: number | null): void {
  for (const { lotId } of lotsOfExtras(turn, [gift.id])) {
    if (!isUnopened(turn, lotId))
      throw Refusal.at('lot', 'It goes with a lot whose terms were fixed when it opened. Correct that lot instead.', 'conflict')
    store.deleteExtra(turn.db, lotId, gift.id)
  }
  if (number === null) return
  const row = getLotRow(turn, number)
  if (!isUnopened(turn, row.id)) throw Refusal.at('lot', `Lot ${number} is open or over: its terms are fixed. Choose another.`, 'too-late')
  store.insertExtra(turn.db, row.id, { words: gift.words, giftId: gift.id })
  turn.record({ kind: 'lot.prepared', subject: `lot:${number}`, body: { number, unit: row.unitTag } })
}

const isUnopened = (sight: Sight, lotId: string): boolean => ['draft', 'ready'].includes(store.findById(sight.db, lotId)?.state ?? '')

export const moveExtras = (turn: Turn, fromGiftId: string, toGiftId: string): void => store.moveExtras(turn.db, fromGiftId, toGiftId)
