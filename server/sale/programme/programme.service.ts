import type { z } from 'zod'
import { isZone } from '#kernel/civil'
import { type Instant, MINUTE, SECOND } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { showClock, showDay } from '#kernel/wall-clock'
import { getCampaign, getRunning } from '#people/campaign/campaign.service'
import { dayAt, dayWith, type StreamDay, sayStreamDay } from '#people/campaign/stream-days.rules'
import { dayOf, getDay, listDays, moveDayEnd, presentDay } from '#people/campaign/stream-days.service'
import { campaignNumber } from '#people/campaign/which.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { planClosing } from '../closings/closings.service'
import { findHoldOfAll } from '../closings/holds.service'
import { stopsWithAll } from '../closings/standing.rules'
import { sayFixedPrice } from '../fixed-price/fixed-price-words.rules'
import { listLots } from '../lots/lots.service'
import { soonWords } from './announcing.rules'
import type { Place } from './awake.rules'
import { clockChangeWithin, fitCivil } from './civil-time.rules'
import type { AudienceIn, DayIn, DayPlan, endLaterIn, moveItemIn, PlanItemIn, Programme, ProgrammeItem } from './programme.contract'
import { asItRuns, beginOf, type ItemKind, inOrderOfDay, LONGEST, objectTo, type PlannedItem, SHORTEST } from './programme.rules'
import * as store from './programme.store'

type LotOnDay = ReturnType<typeof listLots>[number]

export const ENDED = ['sold', 'unsold', 'withdrawn']

/** What is recorded of an item, complete in itself: it may be renamed or taken out afterwards. */
export const told = ({ uid, kind, title, lot, isAnnounced }: ProgrammeItem) => ({ uid, kind, title, lot, isAnnounced })

/** Every item of the day with what became of it, in order; for the staff. */
export function listItems(sight: Sight): ProgrammeItem[] {
  const lots = listLots(sight)
  const hold = findHoldOfAll(sight)?.since ?? null
  return inOrderOfDay(
    store
      .readItems(sight.db, campaignNumber(sight))
      .map((row) => asItem(row, lots.find(({ id }) => id === row.lotId) ?? null, sight.now, hold)),
  )
}

export function asItem(row: store.ItemRow, lot: LotOnDay | null, now: Instant, holdOfAll: Instant | null = null): ProgrammeItem {
  const runsTo = lot ? (lot.endedAt ?? lot.closesAt ?? row.endsAt) : row.endsAt
  // With all clocks those stand, too, of lots that are still to open.
  const standsWithAll = lot !== null && holdOfAll !== null && stopsWithAll({ ...lot, closesAt: runsTo }, holdOfAll)
  const isSoldElsewhere = lot?.soldWhere === 'elsewhere'
  const heldSince = lot?.heldSince ?? (standsWithAll ? holdOfAll : null)
  return {
    id: row.id,
    uid: lot?.id ?? row.id,
    kind: row.kind,
    title: lot ? `Lot ${lot.number}: ${lot.title}` : row.title,
    note: row.note,
    lot: lot?.number ?? null,
    unit: lot?.unit ?? null,
    startsAt: row.startsAt,
    endsAt: row.endsAt,
    runsTo,
    // Terms are fixed when a lot opens, its closing among them: from then on it counts as announced.
    isAnnounced: row.announcedAt !== null || (lot !== null && lot.openedAt !== null),
    isOver: lot ? ENDED.includes(lot.state) : row.endsAt <= now,
    isHeld: heldSince !== null,
    heldSince,
    isExtended: lot !== null && lot.extendedTimes > 0 && runsTo > row.startsAt,
    lateBid: lot?.lateBid ?? null,
    // What closes elsewhere closes when it does there, whatever moves here.
    keepsTime: row.keepsTime || isSoldElsewhere,
    isSoldElsewhere,
    isWithdrawn: lot?.state === 'withdrawn',
    fixedPrice: lot?.fixedPrice ? sayFixedPrice(lot.fixedPrice, lot.currency) : null,
    sequence: row.sequence + (lot ? sequenceOf(row, lot) : 0),
    changedAt: row.changedAt,
  }
}

/**
 * How often a closing has changed without its item being touched: by the seconds that late bids, holds and outages moved it,
 * and by its end. A lot that was withdrawn early ends before its closing, so the closing counts and not the end.
 */
const sequenceOf = (row: store.ItemRow, { closesAt, state }: LotOnDay): number =>
  Math.max(0, Math.round(((closesAt ?? row.endsAt) - row.endsAt) / SECOND)) + (ENDED.includes(state) ? 1 : 0)

/** The items of one stream day, in order: a closing stands in the day in which its lot closes, and in no other. */
export function listItemsOfDay(sight: Sight, { number }: Pick<StreamDay, 'number'>): ProgrammeItem[] {
  const days = listDays(sight)
  return listItems(sight).filter((item) => dayAt(days, beginOf(item)).number === number)
}

/** What has been announced, for everybody, by stream day; a lot that is still being prepared is not in it. */
export function publicProgramme(sight: Sight, number?: number): Programme {
  const { name, zone } = getCampaign(sight)
  const days = listDays(sight)
  const drafts = new Set(listLots(sight).flatMap(({ number: lot, state }) => (state === 'draft' ? [lot] : [])))
  const announced = listItems(sight).filter((item) => item.isAnnounced && !(item.lot !== null && drafts.has(item.lot)))
  const whole = (day: StreamDay) => ({
    ...day,
    items: announced.filter((item) => dayAt(days, beginOf(item)).number === day.number),
    clockChange: clockChangeWithin(day.opensAt, day.closesAt, zone),
  })
  const asked = getDay(sight, number)
  return { name, zone, ...whole(asked), others: days.filter((day) => day.number !== asked.number).map(whole) }
}

/** A stream day for the staff: the one of this number, or the one that an item stands in, or the one at hand. */
export function readDay(sight: Sight, { day: number, item }: DayIn = {}): DayPlan {
  const { zone, name } = getCampaign(sight)
  const all = listItems(sight)
  const found = all.find(({ id }) => id === item)
  const day = found ? dayOf(sight, beginOf(found)) : getDay(sight, number)
  const items = listItemsOfDay(sight, day)
  const planned = new Set(all.map(({ lot }) => lot))
  const audience = readAudience(sight)
  const zones = [...new Set([zone, ...audience.map((each) => each.zone)])]
  const clockChanges = zones.flatMap((each) => clockChangeWithin(day.opensAt, day.closesAt, each) ?? [])
  return {
    name,
    zone,
    ...day,
    days: [...listDays(sight)],
    items,
    clockChange: clockChangeWithin(day.opensAt, day.closesAt, zone),
    clockChanges,
    audience: audience.map(({ zone: where, shareBp, daysOff }) => ({ zone: where, sharePercent: shareBp / 100, daysOff: [...daysOff] })),
    unplanned: listLots(sight)
      .filter(({ number, state }) => !planned.has(number) && !ENDED.includes(state))
      .map(({ number, title }) => ({ number, title })),
    unannounced: items.filter(({ isAnnounced }) => !isAnnounced).length,
  }
}

/** Puts a closing, a guest or a break into the day. A clash is refused at the time, in words. */
export function planItem(turn: Turn, input: PlanItemIn): { itemId: string } {
  const { zone } = getRunning(turn, 'at')
  const lot = input.kind === 'closing' ? getLotToPlan(turn, input.lot) : null
  const startsAt = readStart(input, zone)
  const row: store.ItemRow = {
    id: turn.dice.id(),
    kind: input.kind,
    lotId: lot?.id ?? null,
    title: lot ? `Lot ${lot.number}` : nameOf(input.kind, input.title ?? ''),
    note: input.note ?? '',
    startsAt,
    endsAt: lot ? startsAt : startsAt + spanOf(input),
    civilStart: `${input.on}T${input.at}`,
    zone,
    announcedAt: input.announce ? turn.now : null,
    sequence: 0,
    changedAt: turn.now,
    keepsTime: input.kind !== 'closing' && (input.keepsTime ?? false),
    campaignNumber: campaignNumber(turn),
  }
  const item = asItem(row, lot, turn.now)
  refuseObjection(turn, item, null)
  if (input.announce && input.evenIfSoon === false) askIfSoon(turn, [{ ...item, runsTo: item.startsAt }])
  store.insertItem(turn.db, row)
  if (lot) planClosing(turn, lot.number, startsAt)
  turn.record({ kind: 'programme.planned', subject: `programme:${row.id}`, body: { ...told(asItem(row, lot, turn.now)), startsAt } })
  return { itemId: row.id }
}

/** Moves an item or renames it. What was announced moves later only; a closing takes its lot's clock with it. */
export function moveItem(turn: Turn, input: z.output<typeof moveItemIn>): { itemId: string } {
  const { zone } = getCampaign(turn)
  const row = getItem(turn, input.itemId)
  const lot = listLots(turn).find(({ id }) => id === row.lotId) ?? null
  if (lot && ENDED.includes(lot.state)) throw Refusal.at('at', `Lot ${lot.number} has closed. Its time stays in the record.`, 'too-late')
  const was = asItem(row, lot, turn.now)
  const startsAt = readStart(input, zone)
  const endsAt = lot ? startsAt : startsAt + spanOf({ kind: row.kind, minutes: input.minutes })
  const isMoved = startsAt !== row.startsAt || endsAt !== row.endsAt
  if (isMoved && was.isAnnounced && input.reason.length < 3)
    throw Refusal.at('reason', 'It was announced, so say in a few words why it moves; everybody can read it.')
  const moved = { ...was, startsAt, endsAt, runsTo: endsAt }
  // An extension may have moved the close already: what was announced last counts.
  if (isMoved) refuseObjection(turn, moved, lot ? { ...was, startsAt: Math.max(was.startsAt, was.runsTo) } : was)
  store.updateItem(turn.db, row.id, {
    title: lot ? row.title : nameOf(row.kind, input.title || row.title),
    note: input.note ?? row.note,
    startsAt,
    endsAt,
    civilStart: `${input.on}T${input.at}`,
    zone,
    sequence: was.sequence + 1,
    changedAt: turn.now,
    ...(!lot && input.keepsTime !== undefined && { keepsTime: input.keepsTime }),
  })
  if (lot && isMoved) planClosing(turn, lot.number, startsAt)
  turn.record({
    kind: 'programme.moved',
    subject: `programme:${row.id}`,
    body: {
      ...told(was),
      isAnnounced: isMoved && was.isAnnounced,
      from: lot ? was.runsTo : row.startsAt,
      to: startsAt,
      ...(!lot && { endedAt: row.endsAt, endsAt }),
      reason: input.reason,
    },
  })
  return { itemId: row.id }
}

/** Takes an item out of the day. An announced closing stays: people wait for it. */
export function removeItem(turn: Turn, itemId: string): void {
  const row = getItem(turn, itemId)
  const lot = listLots(turn).find(({ id }) => id === row.lotId) ?? null
  if (lot && asItem(row, lot, turn.now).isAnnounced) {
    throw Refusal.at('itemId', `The closing of lot ${lot.number} has been announced. Move it later, or withdraw the lot.`, 'conflict')
  }
  store.deleteItem(turn.db, row.id)
  if (lot) planClosing(turn, lot.number, null)
  turn.record({
    kind: 'programme.removed',
    subject: `programme:${row.id}`,
    body: { ...told(asItem(row, lot, turn.now)), startsAt: row.startsAt, endsAt: row.endsAt, sequence: row.sequence + 1 },
  })
}

/** Lots that go along into the next campaign have no time in the day of this one. */
export const leaveDay = (turn: Turn, lotIds: readonly string[]): void => store.deleteClosings(turn.db, lotIds)

/** Asks once more before closings are announced that come too soon, or stand too near something as the day runs now. */
export function askIfSoon(sight: Sight, planned: readonly ProgrammeItem[]): void {
  const words = soonWords(planned, listItems(sight), sight.now, getCampaign(sight).zone)
  if (words.length > 0) throw Refusal.at('evenIfSoon', `${words.join(' ')} Move it later, or announce it all the same.`, 'conflict')
}

/** Everything planned so far for a stream day is announced; from now on it moves later only. Other days stay as they are. */
export function announceProgramme(turn: Turn, evenIfSoon = true, day?: number): { announced: number } {
  const planned = listItemsOfDay(turn, getDay(turn, day)).filter(({ isAnnounced }) => !isAnnounced)
  if (!evenIfSoon) askIfSoon(turn, planned)
  const announced = store.announceItems(
    turn.db,
    planned.map(({ id }) => id),
    turn.now,
  )
  if (announced > 0) turn.record({ kind: 'programme.announced', subject: 'programme', body: { announced } })
  return { announced }
}

/** The stream at hand ends later, and with it everything that goes by its end; everybody who looks at the programme is told why. */
export function endLater(turn: Turn, actor: Actor, { minutes, reason }: z.output<typeof endLaterIn>): { endsAt: Instant } {
  const day = presentDay(turn)
  const endsAt = day.closesAt + minutes * MINUTE
  moveDayEnd(turn, day, endsAt, actor)
  const body = { uid: 'end', kind: 'end', title: 'The end of the stream', lot: null, isAnnounced: true }
  turn.record({ kind: 'programme.moved', subject: 'programme:end', body: { ...body, from: day.closesAt, to: endsAt, reason } })
  return { endsAt }
}

/** Where the audience lives; the shares come to a hundred. */
export function setAudience(turn: Turn, input: AudienceIn): void {
  for (const [index, { zone }] of input.zones.entries()) {
    if (!isZone(zone)) throw Refusal.at(`zones.${index}.zone`, `"${zone}" is not a time zone. Write one such as Asia/Tokyo.`)
    if (input.zones.findIndex((other) => other.zone === zone) !== index) throw Refusal.at(`zones.${index}.zone`, `${zone} is there twice.`)
  }
  const whole = input.zones.reduce((sum, { sharePercent }) => sum + sharePercent, 0)
  const last = input.zones.at(-1)
  if (last && whole !== 100) {
    const fits = last.sharePercent + 100 - whole
    const way = fits >= 1 ? ` With ${fits} here they would.` : ''
    throw Refusal.at(`zones.${input.zones.length - 1}.sharePercent`, `The shares come to ${whole} %, and must come to 100.${way}`)
  }
  store.replaceAudience(
    turn.db,
    input.zones.map(({ zone, sharePercent, daysOff }) => ({ zone, shareBp: sharePercent * 100, daysOff: daysOff.join(' ') })),
  )
  turn.record({ kind: 'programme.audience', subject: 'programme', body: { zones: input.zones.map(({ zone }) => zone) } })
}

export const readAudience = (sight: Sight): (Required<Place> & { shareBp: number })[] =>
  store.readAudience(sight.db).map((row) => ({ ...row, daysOff: row.daysOff.split(' ').filter((day) => day !== '') }))

function getItem(turn: Turn, itemId: string): store.ItemRow {
  const row = store.findItem(turn.db, itemId)
  if (!row) throw Refusal.at('itemId', 'That is not in the programme any more. Reload the page.', 'not-found')
  return row
}

function getLotToPlan(turn: Turn, number: number | undefined): LotOnDay {
  const lot = listLots(turn).find((each) => each.number === number)
  if (!lot) throw Refusal.at('lot', 'Choose the lot that closes.')
  if (ENDED.includes(lot.state)) throw Refusal.at('lot', `Lot ${lot.number} is ${lot.state}. Choose another.`, 'conflict')
  const there = store.readItems(turn.db, campaignNumber(turn)).find(({ lotId }) => lotId === lot.id)
  if (there) {
    const at = showClock(there.startsAt, there.zone)
    throw Refusal.at('lot', `Lot ${lot.number} already closes at ${at}. Move that closing instead.`, 'conflict')
  }
  return lot
}

/** Refuses an item that cannot stand where it is put, at the field that is to blame. */
export function refuseObjection(
  turn: Turn,
  item: ProgrammeItem,
  was: PlannedItem | null,
  others: readonly ProgrammeItem[] = listItems(turn).filter(({ id, isOver }) => id !== item.id && !isOver),
): void {
  const { zone } = getCampaign(turn)
  const days = listDays(turn)
  const window = dayWith(days, item.startsAt) ?? dayAt(days, item.startsAt)
  const runs = days.length > 1 ? `on ${days.map((day) => sayStreamDay(day, zone)).join(', and on ')}` : undefined
  // A closing that was extended keeps the minutes about the time at which it closes now.
  const objection = objectTo({ item, was, others: asItRuns(others), window, now: turn.now, zone, runs })
  if (objection) throw Refusal.at(objection.field, objection.words)
}

/** The instant of what was typed in the stream's zone, resolved once. */
export function readStart({ on, at, which }: Pick<PlanItemIn, 'on' | 'at' | 'which'>, zone: string): Instant {
  const fit = fitCivil(`${on}T${at}`, zone)
  if (!fit) throw Refusal.at('on', `There is no day ${on}. Write it like 2027-03-13.`)
  if (fit.fits === 'never') {
    throw Refusal.at(
      'at',
      `${at} does not come on ${showDay(fit.later, zone)}: the clocks go forward over it. The next time there is, is ${showClock(fit.later, zone)}.`,
    )
  }
  if (fit.fits === 'once') return fit.at
  if (!which)
    throw Refusal.at(
      'which',
      `${at} comes twice on ${showDay(fit.earlier, zone)}, when the clocks go back. Choose the first or the second.`,
    )
  return which === 'first' ? fit.earlier : fit.later
}

function spanOf({ kind, minutes }: { kind: ItemKind; minutes?: number | string | undefined }): number {
  const span = Number(minutes ?? (kind === 'break' ? 20 : 30)) * MINUTE
  if (span < SHORTEST || span > LONGEST) {
    throw Refusal.at('minutes', `A ${kind} lasts from ${SHORTEST / MINUTE} to ${LONGEST / MINUTE} minutes.`)
  }
  return span
}

function nameOf(kind: ItemKind, title: string): string {
  if (title !== '') return title
  if (kind === 'break') return 'Break'
  throw Refusal.at('title', 'Write who the guest is.')
}
