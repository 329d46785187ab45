import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { moveExtras } from '#sale/lots/extras.service'
import { type DonorCard, getDonor, giveUpRecord, listDonors } from '#stock/donors/donor.service'
import { suggestPromises } from '#stock/donors/gift.rules'
import { giftsOf, outstandingPromises } from '#stock/donors/gift.service'
import { handOverGifts, joinPromise } from '#stock/donors/gift-change.service'
import { moveLinks } from '#stock/donors/link.service'
import { mailHint } from '#stock/donors/mail-hint.rules'
import { looksLike, mergeRecords } from '#stock/donors/merge.rules'
import { giveBatchesTo } from '#stock/shelf/batch.service'
import type { claimIn, mergeIn } from './parcel.contract'
import { countParcelsOf, findParcelRow, giveParcels } from './parcel.store'

/** What making one record of two would do, before it is done. */
export interface MergePreview {
  keptName: string
  goneName: string
  gifts: number
  parcels: number
  changes: string[]
  /** What came unknown and meets a promise of the record that is kept. */
  meets: { giftId: string; promiseId: string; what: string; quantity: number; stillPromised: number }[]
}

export function previewMerge(sight: Sight, input: z.output<typeof mergeIn>): MergePreview {
  const { kept, gone } = bothOf(sight, input)
  return {
    keptName: kept.name,
    goneName: gone.name,
    gifts: giftsOf(sight, gone.id).length,
    parcels: countParcelsOf(sight.db, gone.id),
    changes: mergeRecords(kept, gone).changes,
    meets: gone.isStandIn ? promisesMetBy(sight, kept, gone) : [],
  }
}

/**
 * Two records become one: gifts and parcels move with their history, the stricter consents win, private links lead to
 * the record that is kept. A stand-in for an unknown sender is claimed the same way; what it brought meets the promises
 * of whoever sent it.
 */
export function mergeDonors(turn: Turn, actor: Actor, input: z.output<typeof mergeIn>): { donorId: string } {
  const { kept, gone } = bothOf(turn, input)
  const { meets } = previewMerge(turn, input)
  const reason = gone.isStandIn ? 'the sender became known' : 'two records of one donor'
  handOverGifts(turn, actor, { from: gone, to: kept, reason })
  giveParcels(turn.db, gone.id, kept.id)
  moveLinks(turn, gone.id, kept.id)
  giveUpRecord(turn, actor, kept, gone)
  const gifts = new Map(giftsOf(turn, kept.id).map((line) => [line.id, line]))
  for (const { giftId, promiseId } of meets) {
    const came = gifts.get(giftId)
    if (!came) continue
    const moved = () => {
      giveBatchesTo(turn, giftId, promiseId)
      moveExtras(turn, giftId, promiseId)
    }
    joinPromise(turn, actor, { came, promiseId, moved })
  }
  return { donorId: kept.id }
}

/** Each line of the stand-in's, against the promises of the donor; a promise is met by one line only. */
function promisesMetBy(sight: Sight, kept: DonorCard, gone: DonorCard): MergePreview['meets'] {
  const meets: MergePreview['meets'] = []
  for (const { id, partId, what, quantity, arrivedAt } of giftsOf(sight, gone.id)) {
    if (partId === null || arrivedAt === null) continue
    const open = outstandingPromises(sight).filter((promise) => !meets.some(({ promiseId }) => promiseId === promise.giftId))
    const [take] = suggestPromises(open, kept.id, partId, quantity).takes
    if (take) meets.push({ giftId: id, promiseId: take.giftId, what, quantity, stillPromised: take.stillPromised })
  }
  return meets
}

function bothOf(sight: Sight, { keptId, goneId }: z.output<typeof mergeIn>): { kept: DonorCard; gone: DonorCard } {
  if (keptId === goneId) throw Refusal.at('goneId', 'These are already one record. Choose another.')
  const [kept, gone] = [getDonor(sight, keptId), getDonor(sight, goneId)]
  for (const one of [kept, gone]) {
    if (one.mergedIntoId !== null)
      throw Refusal.at('goneId', `${one.name} has already been merged into another record. Reload the page.`, 'conflict')
  }
  if (kept.isStandIn && !gone.isStandIn) {
    throw Refusal.at('keptId', `Keep ${gone.name}: the other record stands in for an unknown sender.`)
  }
  return { kept, gone }
}

/** Records that may be the same donor as this one. */
export function doublesOf(sight: Sight, donor: DonorCard): { id: string; name: string; mailHint: string }[] {
  const all = listDonors(sight)
  const ids = new Set(looksLike(donor, all))
  return all.filter(({ id }) => ids.has(id)).map(({ id, name, contact }) => ({ id, name, mailHint: mailHint(contact) }))
}

/** Somebody says who sent a parcel from nobody known: it is theirs, with all that came in it. */
export function claimParcel(turn: Turn, actor: Actor, { parcelId, donorId }: z.output<typeof claimIn>): { donorId: string } {
  const parcel = findParcelRow(turn.db, parcelId)
  if (!parcel) throw new Refusal('not-found', 'There is no such parcel.')
  const sender = getDonor(turn, parcel.donorId)
  if (!sender.isStandIn) throw Refusal.at('donorId', `It is already known to be from ${sender.name}.`, 'conflict')
  return mergeDonors(turn, actor, { keptId: donorId, goneId: sender.id })
}
