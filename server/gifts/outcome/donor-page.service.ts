import type { Sight } from '#runtime/queue/turn'
import { lotsOfExtras } from '#sale/lots/extras.service'
import { getLotRowById } from '#sale/lots/lots.service'
import { getDonor, mergedInto } from '#stock/donors/donor.service'
import { giftChanges, giftsOf } from '#stock/donors/gift.service'
import { linkMadeAt } from '#stock/donors/link.service'
import { doublesOf } from '../parcels/merge.service'
import { becameOf } from './became.service'
import { soldThanksFor } from './sold-thanks.service'
import { thanksFor } from './thanks.service'

export type DonorPage = ReturnType<typeof donorPage>

/** A donor as the staff see them: what they gave and what became of it, the thanks that are due, and records that may be the same donor. */
export function donorPage(sight: Sight, donorId: string) {
  const donor = getDonor(sight, donorId)
  const gifts = giftsOf(sight, donor.id)
  const ids = gifts.map((line) => line.id)
  return {
    donor,
    gifts,
    changes: giftChanges(sight, ids),
    became: becameOf(sight, gifts),
    thanks: thanksFor(sight, donor),
    soldThanks: soldThanksFor(sight, donor),
    withLots: lotsOfExtras(sight, ids).map(({ giftId, lotId }) => ({ giftId, number: getLotRowById(sight, lotId).number })),
    mergedRecords: mergedInto(sight, donor.id).map(({ id, name, contact, mergedAt }) => ({ id, name, contact, mergedAt })),
    doubles: doublesOf(sight, donor),
    linkMadeAt: linkMadeAt(sight, donor.id),
  }
}
