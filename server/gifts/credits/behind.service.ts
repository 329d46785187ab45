import { madeOf } from '#bench/units/roster.service'
import type { Sight } from '#runtime/queue/turn'
import { extraGiftsOf } from '#sale/lots/extras.service'
import { giftRowsById, giftsOnlyFor } from '#stock/donors/gift.service'
import { batchesById } from '#stock/shelf/batch.service'
import { behindUnit } from './credits.rules'

/** The gifts behind a unit, and behind its lot where one is given. */
export function giftsBehind(sight: Sight, unitId: string, lotId: string | null) {
  const { designId, batchIds } = madeOf(sight, unitId)
  const fittedFrom = batchesById(sight, batchIds).flatMap(({ giftId }) => giftId ?? [])
  return behindUnit({
    fitted: giftRowsById(sight, [...new Set(fittedFrom)]),
    withLot: lotId === null ? [] : giftRowsById(sight, extraGiftsOf(sight, lotId)),
    forIt: giftsOnlyFor(sight, { unitId, designId }),
  })
}
