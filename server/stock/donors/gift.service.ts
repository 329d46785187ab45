import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { spanOf } from '#people/campaign/which.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getPart, partsById } from '../catalogue/part.service'
import type { HowCounted } from './count-words.rules'
import type { GiftChangeWhat, GiftKind, GiftState, giftIn, giftMoveIn } from './donor.contract'
import { getDonor } from './donor.service'
import { decideMove, isOutstanding, type PromisedLine } from './gift.rules'
import {
  allGiftRows,
  donorIdsOf,
  findGiftRow,
  type GiftChangeRow,
  type GiftRow,
  giftChangeRows,
  giftRows,
  giftRowsOf,
  giftRowsOfParcels,
  giftRowsOnlyFor,
  insertGift,
  insertGiftChange,
  outstandingGiftRows,
  unapprovedGiftRows,
  updateGift,
} from './gift.store'

/** A gift line with what it is in words. */
export interface GiftLine extends GiftRow {
  what: string
}

const BLANK = {
  partId: null,
  words: '',
  quantity: 0,
  minutes: null,
  amountMinor: null,
  onlyForUnitId: null,
  onlyForDesignId: null,
  parcelId: null,
  promisedAt: null,
  arrivedAt: null,
  splitFromId: null,
  approved: true,
  thankedAt: null,
  howCounted: 'counted',
  byPersonId: null,
} satisfies Partial<GiftRow>

type NewGift = Pick<GiftRow, 'donorId' | 'kind' | 'state'> & Partial<GiftRow>

/** Keeps one gift line as it stands. Other rooms give it its parcel and state; what people type goes through `addGift`. */
export function keepGift(turn: Turn, actor: Actor | null, line: NewGift): GiftRow {
  const row: GiftRow = { ...BLANK, ...line, id: turn.dice.id(), at: turn.now, byPersonId: actor?.personId ?? null }
  insertGift(turn.db, row)
  const kind = isOutstanding(row.state) ? 'gift.promised' : 'gift.arrived'
  turn.record({
    kind,
    subject: `gift:${row.id}`,
    body: { giftId: row.id, donorId: row.donorId, partId: row.partId, quantity: row.quantity },
  })
  return row
}

/** What the staff write down by hand: a promise, or hours, money, postage and extras that came without a parcel. */
export function addGift(turn: Turn, actor: Actor, input: z.output<typeof giftIn>): GiftLine {
  getDonor(turn, input.donorId)
  if (input.partId !== undefined) getPart(turn, input.partId)
  const isWork = input.kind === 'labour'
  const isMoney = input.kind === 'money'
  if (isWork && input.minutes === undefined) throw Refusal.at('minutes', 'Write how many minutes they helped, such as 90.')
  if (isMoney && input.amountMinor === undefined) throw Refusal.at('amountMinor', 'Write how much it was.')
  if (isMoney && !findCampaign(turn))
    throw Refusal.at('kind', 'There is no campaign yet to say which currency is used. The maker sets one up at /bench/campaign.')
  const isThing = !isWork && !isMoney && input.kind !== 'postage'
  if (isThing && input.quantity === undefined) throw Refusal.at('quantity', 'Write how many.')
  if (input.partId === undefined && input.words === '') throw Refusal.at('words', 'Say what it is, or choose a part.')
  if (input.onlyForUnitId !== undefined && input.onlyForDesignId !== undefined) {
    throw Refusal.at('onlyForUnitId', 'Restrict it to one unit or to one design, not both.')
  }
  const row = keepGift(turn, actor, {
    donorId: input.donorId,
    kind: input.kind,
    partId: input.partId ?? null,
    words: input.words,
    quantity: isThing ? (input.quantity ?? 0) : 0,
    minutes: isWork ? (input.minutes ?? null) : null,
    amountMinor: isMoney ? (input.amountMinor ?? null) : null,
    onlyForUnitId: input.onlyForUnitId ?? null,
    onlyForDesignId: input.onlyForDesignId ?? null,
    state: isThing ? 'promised' : 'available',
    promisedAt: isThing ? turn.now : null,
    arrivedAt: isThing ? null : turn.now,
  })
  return getGift(turn, row.id)
}

/** Moves a line along by the rule, with its history. Refuses at `to` or `reason`. */
export function moveGift(turn: Turn, actor: Actor, { giftId, to, reason }: z.output<typeof giftMoveIn>): GiftLine {
  const row = getGift(turn, giftId)
  const decision = decideMove(row.state, to, reason)
  if (!decision.ok) throw Refusal.at(decision.field, decision.words)
  changeGift(turn, actor, row, 'state', { state: to }, reason)
  return getGift(turn, giftId)
}

/** A change of one thing in a line, kept with what it was. */
export function changeGift(
  turn: Turn,
  actor: Actor | null,
  row: GiftRow,
  what: Exclude<GiftChangeWhat, 'restriction' | 'donor'>,
  change: Partial<GiftRow>,
  reason = '',
): void {
  const field = { state: 'state', quantity: 'quantity', approval: 'approved' } as const
  const key = field[what]
  updateGift(turn.db, row.id, change)
  noteChange(turn, actor, row, { what, was: String(row[key] ?? ''), now: String(change[key] ?? ''), reason })
  turn.record({
    kind: `gift.${what}-changed`,
    subject: `gift:${row.id}`,
    body: { giftId: row.id, donorId: row.donorId, was: row[key], now: change[key] },
  })
}

interface Changed {
  what: GiftChangeWhat
  was: string
  now: string
  reason: string
}

/** One line of a gift's history. */
export const noteChange = (turn: Turn, actor: Actor | null, row: GiftRow, changed: Changed): void =>
  insertGiftChange(turn.db, { id: turn.dice.id(), giftId: row.id, ...changed, at: turn.now, byPersonId: actor?.personId ?? null })

/**
 * A promise (or a part of it) has come and was counted. The line becomes what came; what has not come stays
 * promised as a line of its own, split from it. More than was promised is a corrected quantity.
 */
export function arriveInParcel(
  turn: Turn,
  actor: Actor,
  { giftId, came, howCounted, parcelId }: { giftId: string; came: number; howCounted: HowCounted; parcelId: string },
): GiftLine {
  const row = getGift(turn, giftId)
  if (!isOutstanding(row.state)) throw new Refusal('conflict', `${row.what} has already been logged. Choose a promise that is still open.`)
  const rest = row.quantity - came
  if (rest !== 0)
    changeGift(turn, actor, row, 'quantity', { quantity: came }, rest > 0 ? `${rest} still to come` : 'more came than was promised')
  if (rest > 0) {
    const { donorId, kind, partId, words, onlyForUnitId, onlyForDesignId, promisedAt } = row
    const same = { donorId, kind, partId, words, onlyForUnitId, onlyForDesignId, promisedAt }
    keepGift(turn, actor, { ...same, quantity: rest, state: 'promised', splitFromId: row.id })
  }
  changeGift(turn, actor, row, 'state', { state: 'arrived', parcelId, arrivedAt: turn.now, approved: true, howCounted })
  if (howCounted !== 'not yet') changeGift(turn, actor, { ...row, state: 'arrived' }, 'state', { state: 'counted' })
  turn.record({
    kind: 'gift.arrived',
    subject: `gift:${row.id}`,
    body: { giftId: row.id, donorId: row.donorId, partId: row.partId, quantity: came },
  })
  return getGift(turn, giftId)
}

/** What came by a gift turned out to be another part. */
export const giveGiftPart = (turn: Turn, giftId: string, partId: string): void => updateGift(turn.db, giftId, { partId })

/** What was guessed, or left for later, has been counted. */
export function noteCounted(turn: Turn, actor: Actor, giftId: string): void {
  const row = getGift(turn, giftId)
  if (row.howCounted === 'counted') return
  updateGift(turn.db, giftId, { howCounted: 'counted' })
  if (row.state === 'arrived') changeGift(turn, actor, row, 'state', { state: 'counted' })
}

/** What was given in words is a part of the catalogue, of its kind. */
export const nameGiftPart = (turn: Turn, giftId: string, { partId, kind }: { partId: string; kind: GiftKind }): void =>
  updateGift(turn.db, giftId, { partId, kind })

export function noteThanked(turn: Turn, gifts: readonly GiftRow[]): void {
  for (const row of gifts) updateGift(turn.db, row.id, { thankedAt: turn.now })
}

export function getGift(sight: Sight, giftId: string): GiftLine {
  const row = findGiftRow(sight.db, giftId)
  const [line] = row ? inWords(sight, [row]) : []
  if (!line) throw new Refusal('not-found', 'There is no such gift.')
  return line
}

export const giftsOf = (sight: Sight, donorId: string): GiftLine[] => inWords(sight, giftRowsOf(sight.db, donorId))
export const listGifts = (sight: Sight): GiftLine[] => inWords(sight, allGiftRows(sight.db))
export const giftsById = (sight: Sight, giftIds: readonly string[]): GiftLine[] => inWords(sight, giftRows(sight.db, giftIds))
export const giftsOfParcels = (sight: Sight, parcelIds: readonly string[]): GiftLine[] =>
  inWords(sight, giftRowsOfParcels(sight.db, parcelIds))

/** Gifts kept for a unit or its design, as rows: the credits ask this of every lot. */
export const giftsOnlyFor = (sight: Sight, unit: { unitId: string; designId: string }): GiftRow[] => giftRowsOnlyFor(sight.db, unit)

/** Gifts by id as rows, without their words. */
export const giftRowsById = (sight: Sight, giftIds: readonly string[]): GiftRow[] => giftRows(sight.db, giftIds)

/** Who gave anything in these states; of these kinds and tied to no machine, where kinds are named. */
export const donorsWhoGave = (sight: Sight, states: readonly GiftState[], kinds?: readonly GiftKind[]): string[] =>
  donorIdsOf(sight.db, spanOf(sight), states, kinds)

/** Promises still to come, oldest first; those from outside only once they are approved. */
export const outstandingPromises = (sight: Sight): (GiftLine & PromisedLine)[] =>
  inWords(sight, outstandingGiftRows(sight.db))
    .filter((line) => line.approved)
    .map((line) => ({ ...line, giftId: line.id, promisedAt: line.promisedAt ?? line.at }))

export const giftChanges = (sight: Sight, giftIds: readonly string[]): GiftChangeRow[] => giftChangeRows(sight.db, giftIds)

export const promisesToApprove = (sight: Sight): GiftLine[] => inWords(sight, unapprovedGiftRows(sight.db))

/** "6 × Display, 14 mm", "Solder station, lent", "90 minutes of help". */
function inWords(sight: Sight, rows: readonly GiftRow[]): GiftLine[] {
  const parts = partsById(
    sight,
    rows.flatMap((row) => row.partId ?? []),
  )
  return rows.map((row) => ({ ...row, what: (row.partId && parts.get(row.partId)?.words) || row.words || row.kind }))
}
