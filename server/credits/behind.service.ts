import { giftRowsById, giftsOnlyFor } from '../donors/gift.service'
import { extraGiftsOf } from '../lots/extras.service'
import { batchesById } from '../parts/batch.service'
import type { Sight } from '../runtime/turn'
import { madeOf } from '../units/holdings.service'
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
