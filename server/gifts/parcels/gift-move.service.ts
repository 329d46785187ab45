import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import type { giftMoveIn } from '#stock/donors/donor.contract'
import { getDonor } from '#stock/donors/donor.service'
import { type GiftLine, moveGift } from '#stock/donors/gift.service'
import { postLetter } from '#stock/donors/letter.service'
import { batchesOfGifts } from '#stock/shelf/batch.service'
import { batchCards } from '#stock/shelf/stock.service'

/** A gift line moved by hand. What is given back or destroyed must not stay on the shelf, so its batch is put right first. */
export function moveArrivedGift(turn: Turn, actor: Actor, input: z.output<typeof giftMoveIn>): GiftLine {
  const [card] = batchCards(turn, batchesOfGifts(turn, [input.giftId]))
  const leaves = input.to === 'returned' || input.to === 'destroyed'
  if (card && leaves && card.inHand > 0) {
    throw Refusal.at('to', `Batch ${card.code} still has ${card.inHand} in hand. First recount it to what is left, or quarantine it.`)
  }
  const line = moveGift(turn, actor, input)
  if (input.to === 'returned' && input.body !== '') postLetter(turn, getDonor(turn, line.donorId), input)
  return line
}
