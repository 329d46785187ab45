import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import { lotsOfExtras } from '#sale/lots/extras.service'
import { findOrAddPart, getPart } from '#stock/catalogue/part.service'
import { isOutstanding } from '#stock/donors/gift.rules'
import { getGift, nameGiftPart } from '#stock/donors/gift.service'
import { makeBatch } from '#stock/shelf/batch.service'
import type { nameGiftIn } from './parcel.contract'
import { kindOf } from './parcel.service'

const IN_HAND: readonly string[] = ['arrived', 'counted', 'inspected', 'available', 'spare']

/**
 * A gift that was written down in words is a part: once somebody says which, it lies on the shelf as a batch. A promise
 * in words becomes a promise of that part. The words stay as they were written.
 */
export function nameGift(turn: Turn, actor: Actor, input: z.output<typeof nameGiftIn>): { partId: string; batchCode: string | null } {
  const gift = getGift(turn, input.giftId)
  if (gift.partId !== null) throw Refusal.at('partId', `It is ${gift.what} already.`, 'conflict')
  if (gift.kind === 'labour' || gift.kind === 'money' || gift.kind === 'postage') {
    throw Refusal.at('giftId', 'That is not something that could lie on the shelf.')
  }
  if (!IN_HAND.includes(gift.state) && !isOutstanding(gift.state)) {
    throw Refusal.at('giftId', `It was ${gift.state}, so it is not stock.`, 'conflict')
  }
  if (lotsOfExtras(turn, [gift.id]).length > 0)
    throw Refusal.at('giftId', 'It goes with a lot as an extra. Take it out of the lot first.', 'conflict')
  if ((input.partId === undefined) === (input.newPart === undefined)) throw Refusal.at('partId', 'Choose the part that it is.')
  const partId = input.newPart ? findOrAddPart(turn, input.newPart).part.id : getPart(turn, input.partId ?? '').id
  nameGiftPart(turn, gift.id, { partId, kind: kindOf(turn, partId) })
  const batch = isOutstanding(gift.state)
    ? null
    : makeBatch(turn, {
        partId,
        from: { giftId: gift.id },
        quantity: gift.howCounted === 'not yet' ? 0 : gift.quantity,
        marking: input.marking,
        dateCode: input.dateCode,
      })
  turn.record({
    kind: 'gift.named',
    subject: `gift:${gift.id}`,
    body: { giftId: gift.id, partId, words: gift.words, batchCode: batch?.code ?? null, byPersonId: actor.personId },
  })
  return { partId, batchCode: batch?.code ?? null }
}
