import type { Sight } from '#runtime/queue/turn'
import type { Creditable } from '../donors/credit.rules'
import { creditables } from '../donors/donor.service'
import { type GiftLine, giftsById, listGifts } from '../donors/gift.service'
import { batchesById } from './batch.service'

export interface GiftBehind {
  gift: GiftLine
  donor: Creditable
  /** The batch by which it came into a machine; null for help, postage and extras. */
  batchId: string | null
}

/** The gifts that these batches came by, with what the credits need to know of their givers. Bought batches have none. */
export function giftsBehindBatches(sight: Sight, batchIds: readonly string[]): GiftBehind[] {
  const batches = batchesById(sight, batchIds)
  const gifts = new Map(
    giftsById(
      sight,
      batches.flatMap((batch) => batch.giftId ?? []),
    ).map((line) => [line.id, line]),
  )
  return withGivers(
    sight,
    batches.flatMap((batch) => {
      const gift = batch.giftId === null ? undefined : gifts.get(batch.giftId)
      return gift ? [{ gift, batchId: batch.id }] : []
    }),
  )
}

/** Help and things that came for this very unit or its design and are in no batch: an afternoon's work, a case lined by hand, extras. */
export function giftsHelping(sight: Sight, unit: { unitId: string; designId: string }): GiftBehind[] {
  const helping = listGifts(sight).filter(
    (line) =>
      line.arrivedAt !== null && line.partId === null && (line.onlyForUnitId === unit.unitId || line.onlyForDesignId === unit.designId),
  )
  return withGivers(
    sight,
    helping.map((gift) => ({ gift, batchId: null })),
  )
}

function withGivers(sight: Sight, rows: readonly Omit<GiftBehind, 'donor'>[]): GiftBehind[] {
  const donors = new Map(
    creditables(
      sight,
      rows.map(({ gift }) => gift.donorId),
    ).map((donor) => [donor.donorId, donor]),
  )
  return rows.flatMap((row) => {
    const donor = donors.get(row.gift.donorId)
    return donor ? [{ ...row, donor }] : []
  })
}
