import type { Sweep } from '#runtime/queue/ticker'
import { endPrice, listStandingPrices } from '#sale/fixed-price/shown-price.service'
import { getLotRowById } from '#sale/lots/lots.service'

/** A fixed price whose last day is over stands no longer, and the pages that told of it are made anew. */
export const lastDaySweep: Sweep = {
  name: 'last days of fixed prices',
  nextAt: (sight) => listStandingPrices(sight).find(({ openUntil }) => openUntil !== null)?.openUntil ?? null,
  run: (turn) => {
    for (const { id, lotId, openUntil } of listStandingPrices(turn)) {
      if (openUntil === null || turn.now < openUntil) continue
      endPrice(turn, id, 'over')
      const { number } = getLotRowById(turn, lotId)
      turn.record({ kind: 'fixed-price.over', subject: `lot:${number}`, body: { number } })
    }
  },
}
