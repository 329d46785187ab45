import { keepEarlier } from '#bench/earlier/earlier.service'
import { instantOf } from '#kernel/civil'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { type PartIn, partIn } from '#stock/catalogue/part.contract'
import { findOrAddPart } from '#stock/catalogue/part.service'
import { addDonor, keptDonor } from '#stock/donors/donor.service'
import { keepGift } from '#stock/donors/gift.service'
import { makeBatch } from '#stock/shelf/batch.service'
import { keepEarlierParcel } from '../parcels/earlier-parcel.service'
import { isThing } from './plan.rules'
import type { PlanItem, PlannedGift } from './sheets.contract'

/** Stores one thing of a plan; donors are named by their ids by now. */
export function storeItem(turn: Turn, actor: Actor, item: PlanItem): void {
  if (item.is === 'donor') storeDonor(turn, actor, item)
  else if (item.is === 'giving') storeGiving(turn, actor, item)
  else if (item.is === 'own') storeOwn(turn, item)
  else keepEarlier(turn, actor, item.machine)
}

type Item<Is extends PlanItem['is']> = Extract<PlanItem, { is: Is }>

/** Nobody of a sheet has been asked anything: no consent is given for them. */
function storeDonor(turn: Turn, actor: Actor, { donor, name, creditName, contact, anonymity, isStandIn }: Item<'donor'>): void {
  const nothing = { page: false, stream: false, card: false }
  addDonor(turn, actor, { name, creditName, sayIt: '', contact, anonymity, consents: nothing }, { id: donor, isStandIn })
}

function storeGiving(turn: Turn, actor: Actor, { donor, isHere, day, note, isThanked, gifts }: Item<'giving'>): void {
  // Since the sheet was read, a record may have been given up for another.
  const donorId = isHere ? keptDonor(turn, donor).id : donor
  const cameAt = day === null ? null : dayHere(turn, day)
  const isParcel = cameAt !== null && gifts.some(isThing)
  const parcel = isParcel ? keepEarlierParcel(turn, actor, { donorId, arrivedAt: cameAt, note }) : null
  for (const gift of gifts) {
    const partId = gift.part === null ? null : partOf(turn, gift.part)
    const kept = keepGift(turn, actor, {
      donorId,
      partId,
      kind: gift.kind,
      words: gift.words,
      quantity: gift.quantity,
      howCounted: gift.howCounted,
      minutes: gift.minutes,
      amountMinor: gift.amountMinor,
      state: stateOf(gift, cameAt),
      parcelId: isThing(gift) ? (parcel?.id ?? null) : null,
      promisedAt: cameAt === null ? turn.now : null,
      arrivedAt: cameAt,
      thankedAt: isThanked ? cameAt : null,
    })
    if (partId !== null && cameAt !== null) makeBatch(turn, { ...asBatch(gift, partId), from: { giftId: kept.id } })
  }
}

const stateOf = (gift: PlannedGift, cameAt: number | null) =>
  cameAt === null ? 'promised' : isThing(gift) ? (gift.howCounted === 'not yet' ? 'arrived' : 'counted') : 'available'

const storeOwn = (turn: Turn, { boughtFrom, gift }: Item<'own'>) =>
  makeBatch(turn, { ...asBatch(gift, partOf(turn, gift.part)), from: { boughtFrom }, howCounted: gift.howCounted })

const partOf = (turn: Turn, part: PartIn): string => findOrAddPart(turn, partIn.parse(part)).part.id

const asBatch = ({ quantity, marking, dateCode, place }: PlannedGift, partId: string) => ({ partId, quantity, marking, dateCode, place })

/** Noon of a day in the campaign's zone, or now where that is still to come. */
function dayHere(turn: Turn, day: string): number {
  return Math.min(instantOf(`${day}T12:00`, findCampaign(turn)?.zone ?? 'UTC', 'day'), turn.now)
}
