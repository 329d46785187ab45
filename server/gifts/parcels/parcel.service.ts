import { shortfall, unblockerNow } from '#bench/buildable/shortfall.service'
import { civilOf } from '#kernel/civil'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { needPhotograph } from '#people/photographs/photograph.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { findOrAddPart, getPart, listParts } from '#stock/catalogue/part.service'
import type { CatalogueEntry } from '#stock/catalogue/parts-meant.rules'
import type { GiftKind } from '#stock/donors/donor.contract'
import { addDonor, type DonorCard, type DonorRow, getDonor, listDonors } from '#stock/donors/donor.service'
import { likelySenders, suggestPromises } from '#stock/donors/gift.rules'
import { arriveInParcel, type GiftLine, getGift, giftsOfParcels, keepGift, outstandingPromises } from '#stock/donors/gift.service'
import { type BatchRow, batchesOfGifts, makeBatch } from '#stock/shelf/batch.service'
import { fittedNow } from '#stock/shelf/fitted.service'
import type { ParcelKept, ParcelRead } from './parcel.contract'
import { findParcelRow, insertParcel, type ParcelRow, parcelRows } from './parcel.store'
import { changeRestriction, type Goals, goalsOf, restrictionIn } from './restrict.service'

/**
 * A parcel as the volunteer logs it: who sent it, what came, a photograph. Kept once, however often it is sent
 * with the same key. Promises of that donor are matched and split, parts become batches, and the answer says
 * which units can be completed now.
 */
export function logParcel(turn: Turn, actor: Actor, { key, ...parcel }: ParcelRead): ParcelKept {
  return once(turn, `parcel ${key}`, parcel, () => keepParcel(turn, actor, parcel))
}

function keepParcel(turn: Turn, actor: Actor, parcel: Omit<ParcelRead, 'key'>): ParcelKept {
  if (Number(parcel.donorId !== undefined) + Number(parcel.newDonor !== undefined) + Number(parcel.fromNobody) !== 1) {
    throw Refusal.at('donorId', 'Say who it is from: choose a donor, add a new one, or say that nobody knows.')
  }
  if (parcel.photoSha !== undefined) needPhotograph(turn, parcel.photoSha, 'photoSha')
  const donor = parcel.fromNobody
    ? standIn(turn, actor)
    : parcel.newDonor
      ? addDonor(turn, actor, parcel.newDonor)
      : getDonor(turn, parcel.donorId ?? '')
  const row: ParcelRow = {
    id: turn.dice.id(),
    donorId: donor.id,
    arrivedAt: turn.now,
    photoSha: parcel.photoSha ?? null,
    note: parcel.note,
    byPersonId: actor.personId,
  }
  insertParcel(turn.db, row)
  const kept = parcel.lines.flatMap((line, index) => keepLine(turn, actor, row, line, `lines.${index}`))
  const unblocked = unblockerNow(turn)(kept.flatMap(({ batch }) => batch?.id ?? []))
  turn.record({
    kind: 'parcel.logged',
    subject: `parcel:${row.id}`,
    body: { parcelId: row.id, donorId: donor.id, giftIds: kept.map(({ gift }) => gift.id), photoSha: row.photoSha, unblocked },
  })
  const lines = kept.map(({ gift, batch, wasPromised }) => ({
    what: gift.what,
    quantity: gift.quantity,
    howCounted: gift.howCounted,
    batchCode: batch?.code ?? null,
    wasPromised,
  }))
  return { parcelId: row.id, donorName: donor.name, lines, unblocked }
}

/** Stands in for a sender whom nobody knows, until the parcel is claimed. */
function standIn(turn: Turn, actor: Actor): DonorRow {
  const zone = findCampaign(turn)?.zone ?? 'UTC'
  const [day = '', time = ''] = civilOf(turn.now, zone).split('T')
  const name = `Sender not known (${day}, ${time})`
  const nobody = { page: false, stream: false, card: false }
  return addDonor(
    turn,
    actor,
    { name, creditName: name, sayIt: '', contact: '', anonymity: 'unknown', consents: nobody },
    { isStandIn: true },
  )
}

/** A line whose count is settled: of what is not counted yet there are none so far. */
type Line = ParcelRead['lines'][number] & { quantity: number }

interface KeptLine {
  gift: GiftLine
  batch: BatchRow | null
  wasPromised: boolean
}

function keepLine(turn: Turn, actor: Actor, parcel: ParcelRow, written: ParcelRead['lines'][number], field: string): KeptLine[] {
  const isUncounted = written.howCounted === 'not yet'
  if (written.quantity === undefined && !isUncounted) throw Refusal.at(`${field}.quantity`, 'Write how many.')
  const partId = written.newPart ? findOrAddPart(turn, written.newPart).part.id : written.partId
  const line: Line = { ...written, partId, quantity: isUncounted ? 0 : (written.quantity ?? 0) }
  const asBatch = (gift: GiftLine): BatchRow | null =>
    gift.partId === null
      ? null
      : makeBatch(turn, {
          partId: gift.partId,
          from: { giftId: gift.id },
          // A number that nobody has counted is no stock yet.
          quantity: isUncounted ? 0 : gift.quantity,
          marking: line.marking,
          dateCode: line.dateCode,
          field: `${field}.quantity`,
        })
  const fulfilled = promisesMet(turn, parcel.donorId, line, field).map(({ giftId, came }) => {
    const arrived = arriveInParcel(turn, actor, { giftId, came, howCounted: line.howCounted, parcelId: parcel.id })
    // What the note in the parcel says of it is said of what came; the rest of the promise keeps what it was promised for.
    const gift = isRestricted(line) ? changeRestriction(turn, actor, { giftId, ...onlyFor(line), reason: 'as its parcel says' }) : arrived
    return { gift, batch: asBatch(gift), wasPromised: true }
  })
  if (fulfilled.length > 0) return fulfilled
  if (line.partId === undefined && line.words === '') throw Refusal.at(`${field}.words`, 'Say what it is, or choose a part.')
  const gift = keepGift(turn, actor, {
    donorId: parcel.donorId,
    kind: line.partId === undefined ? 'extras' : kindOf(turn, line.partId),
    partId: line.partId ?? null,
    words: line.words,
    quantity: line.quantity,
    state: isUncounted ? 'arrived' : 'counted',
    howCounted: line.howCounted,
    parcelId: parcel.id,
    arrivedAt: turn.now,
    ...restrictionIn(turn, line, `${field}.onlyFor`),
  })
  const kept = getGift(turn, gift.id)
  return [{ gift: kept, batch: asBatch(kept), wasPromised: false }]
}

const onlyFor = ({ onlyForUnitId, onlyForDesignId }: ParcelRead['lines'][number]) => ({ onlyForUnitId, onlyForDesignId })
const isRestricted = (line: ParcelRead['lines'][number]): boolean => Boolean(line.onlyForUnitId ?? line.onlyForDesignId)

/** Which promises a line meets. What came beyond them is taken as more of the last: one bag, one batch. */
function promisesMet(turn: Turn, donorId: string, line: Line, field: string): { giftId: string; came: number }[] {
  if (line.promiseId !== undefined) {
    const promise = getGift(turn, line.promiseId)
    if (promise.donorId !== donorId)
      throw Refusal.at(`${field}.quantity`, `${promise.what} was promised by somebody else. Choose that donor.`)
    // Until it is counted, what came is taken to be what was promised.
    return [{ giftId: promise.id, came: line.howCounted === 'not yet' ? promise.quantity : line.quantity }]
  }
  if (line.partId === undefined || line.howCounted === 'not yet') return []
  const { takes, unpromised } = suggestPromises(outstandingPromises(turn), donorId, line.partId, line.quantity)
  return takes.map(({ giftId, came }, index) => ({ giftId, came: index === takes.length - 1 ? came + unpromised : came }))
}

export function kindOf(sight: Sight, partId: string): GiftKind {
  const { kind } = getPart(sight, partId)
  return kind === 'board' ? 'boards' : kind === 'case' ? 'cases' : 'parts'
}

export interface ParcelCard extends ParcelRow {
  donorName: string
  /** Nobody knows yet who sent it; these may have, the likeliest first. */
  isUnclaimed: boolean
  likely: { donorId: string; name: string; exact: number }[]
  lines: (GiftLine & { batchCode: string | null })[]
  /** Units that can be completed now and could not without what came in it. */
  unblocked: string[]
  /** Units in which pieces of it are. */
  fittedIn: string[]
}

const MOST_PARCELS = 200

export const listParcels = (sight: Sight): ParcelCard[] => cardsOf(sight, parcelRows(sight.db, MOST_PARCELS))

/** Every parcel with its lines, newest first: for a table. */
export const everyParcel = (sight: Sight): ParcelCard[] => cardsOf(sight, parcelRows(sight.db))

export function getParcel(sight: Sight, parcelId: string): ParcelCard {
  const row = findParcelRow(sight.db, parcelId)
  const [card] = row ? cardsOf(sight, [row]) : []
  if (!card) throw new Refusal('not-found', 'There is no such parcel.')
  return card
}

function cardsOf(sight: Sight, rows: readonly ParcelRow[]): ParcelCard[] {
  const unblockedBy = unblockerNow(sight)
  let open: ReturnType<typeof outstandingPromises> | null = null
  // Asked for only where a parcel is unclaimed.
  const promises = () => (open ??= outstandingPromises(sight))
  const gifts = groupBy(
    giftsOfParcels(
      sight,
      rows.map((row) => row.id),
    ),
    (line) => line.parcelId,
  )
  return rows.map((row) => {
    const donor = getDonor(sight, row.donorId)
    const lines = gifts.get(row.id) ?? []
    const batches = batchesOfGifts(
      sight,
      lines.map((line) => line.id),
    )
    const codes = new Map(batches.map((batch) => [batch.giftId, batch.code]))
    const ids = batches.map((batch) => batch.id)
    return {
      ...row,
      donorName: donor.name,
      isUnclaimed: donor.isStandIn,
      likely: donor.isStandIn
        ? likelySenders(promises(), lines).map(({ donorId, exact }) => ({ donorId, exact, name: getDonor(sight, donorId).name }))
        : [],
      lines: lines.map((line) => ({ ...line, batchCode: codes.get(line.id) ?? null })),
      unblocked: unblockedBy(ids),
      fittedIn: [...new Set(fittedNow(sight, ids).map((held) => held.tag))],
    }
  })
}

/** All that the phone needs to log a parcel without asking again: donors, what they promised, the catalogue. */
export interface ParcelStart {
  /** Whoever may have sent it: names, and how they may be named. */
  donors: Pick<DonorCard, 'id' | 'name' | 'consents' | 'consentAt'>[]
  promises: {
    giftId: string
    donorId: string
    partId: string | null
    what: string
    quantity: number
    promisedAt: Instant
    waiting: string[]
  }[]
  parts: CatalogueEntry[]
  goals: Goals
}

/** The catalogue as whoever names a gift needs it. */
export const catalogueEntries = (sight: Sight): CatalogueEntry[] =>
  listParts(sight).map(({ id, words, kind, name, value, package: size, rating }) => ({
    id,
    words,
    kind,
    name,
    value,
    package: size,
    rating,
  }))

export function parcelStart(sight: Sight): ParcelStart {
  const waiting = new Map(shortfall(sight).parts.map((row) => [row.part.id, row.waiting]))
  return {
    donors: listDonors(sight).flatMap(({ id, name, consents, consentAt, isStandIn }) =>
      isStandIn ? [] : { id, name, consents, consentAt },
    ),
    promises: outstandingPromises(sight).map(({ giftId, donorId, partId, what, quantity, promisedAt }) => {
      return { giftId, donorId, partId, what, quantity, promisedAt, waiting: (partId && waiting.get(partId)) || [] }
    }),
    parts: catalogueEntries(sight),
    goals: goalsOf(sight),
  }
}
