import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import type { GiftLine } from '#stock/donors/gift.service'
import { batchesOfGifts } from '#stock/shelf/batch.service'
import { countsAsGood } from '#stock/shelf/piece.rules'
import { batchCards } from '#stock/shelf/stock.service'
import type { Became } from './thanks-letter.rules'

/** What became of these gifts: how many of each are in which unit, in hand, or bad. */
export function becameOf(
  sight: Sight,
  gifts: readonly GiftLine[],
): (Became & { giftId: string; batchId: string | null; batchCode: string | null })[] {
  const ids = gifts.map((gift) => gift.id)
  const cards = new Map(batchCards(sight, batchesOfGifts(sight, ids)).map((card) => [card.giftId, card]))
  return gifts.map(({ id, what, quantity, minutes }) => {
    const card = cards.get(id)
    const held = groupBy(card?.fittedAt ?? [], ({ tag }) => tag)
    const failed =
      card?.loose.filter((piece) => piece.verdict !== 'not inspected' && !countsAsGood(piece.verdict, card.part.programmed)) ?? []
    return {
      giftId: id,
      batchId: card?.id ?? null,
      batchCode: card?.code ?? null,
      what,
      quantity,
      minutes,
      fitted: [...held].map(([tag, rows]) => ({ tag, count: rows.length })),
      inHand: card?.inHand ?? 0,
      bad: (card?.bad ?? 0) + failed.length,
      quarantined: card?.state === 'quarantined',
    }
  })
}
