import type { z } from 'zod'
import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { presentDay } from '#people/campaign/stream-days.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { readBidders } from '../bidding/bidders.service'
import { stopsWithAll } from '../closings/standing.rules'
import { tellOfNewClosing } from '../letters/letters.service'
import { listLots } from '../lots/lots.service'
import { AS_IT_IS, ifResumed } from '../programme/after-hold.service'
import { sayNoticeNow } from '../programme/day-words.rules'
import { placeClosings } from '../programme/place.service'
import type { GoingOnIn, ProgrammeItem } from '../programme/programme.contract'
import { asItRuns } from '../programme/programme.rules'
import { endLater, listItems, listItemsOfDay, removeItem } from '../programme/programme.service'
import { type DayChange, minutesThatFit, type RippleQuestion, rippleOf, type Shift } from '../programme/ripple.rules'
import { shiftSpan } from '../programme/spans.service'
import type { applyChangeIn, ShownChange, ShownGoingOn, ShownHold, ShownRipple, ShownShift } from './change.contract'
import * as store from './wish.store'

/** What a change on the day would move and who must be told; nothing is changed yet. */
export function previewChange(sight: Sight, change: DayChange, { drop, endsLater }: GoingOnIn = AS_IT_IS): ShownChange {
  const day = presentDay(sight)
  const streamClosesAt = day.closesAt + endsLater * MINUTE
  const items = listItemsOfDay(sight, day).filter(({ id, kind }) => kind === 'closing' || !drop.includes(id))
  const find = (id: string) => items.find((item) => item.id === id)
  for (const id of namedIn(change)) {
    const item = find(id)
    if (!item || item.isOver) throw new Refusal('conflict', 'That is over, or no longer in the programme. Reload the page.')
    if (item.isSoldElsewhere) throw new Refusal('conflict', `${item.title} is sold elsewhere, and closes when it does there.`)
  }
  if (change.kind === 'swap' && change.firstId === change.secondId) throw Refusal.at('secondId', 'Choose another one to swap with.')
  const asNow = asItRuns(items)
  const question: RippleQuestion = {
    items: asNow,
    change,
    together: togetherOf(sight, items),
    window: { opensAt: day.opensAt, closesAt: streamClosesAt },
    now: sight.now,
  }
  const { shifts, beyondEnd, thrown } = rippleOf(question)
  const lengthOf = (id: string) => asNow.flatMap((item) => (item.id === id ? item.endsAt - item.startsAt : []))[0] ?? 0
  return {
    shifts: shown(sight, items, shifts),
    beyondEnd: beyondEnd.flatMap((id) => find(id)?.title ?? []),
    streamEndsAt: streamClosesAt,
    endsAt: Math.max(streamClosesAt, ...shifts.map(({ id, to }) => to + lengthOf(id))),
    thrown: shownThrown(items, thrown),
    fits: thrown.length > 0 ? minutesThatFit(question) : null,
  }
}

/** What holding everything now would stop. */
export function previewHold(sight: Sight): ShownHold {
  const open = listLots(sight).filter(({ state }) => state === 'open')
  const stops = open.filter((lot) => stopsWithAll(lot, sight.now))
  const runOn = open.filter(({ soldWhere, closesAt }) => soldWhere === 'elsewhere' && (closesAt ?? 0) > sight.now)
  const bidders = new Set(stops.flatMap(({ number }) => readBidders(sight, number).bidders.flatMap(({ paddle }) => paddle ?? [])))
  return { lots: stops.length, runOn: runOn.map(({ number }) => number), bidders: bidders.size }
}

/** What going on now would move once `chosen` is done, and what of it is still to be chosen about; null while the clocks run. */
export function previewResume(sight: Sight, chosen: GoingOnIn): ShownGoingOn | null {
  const streamClosesAt = presentDay(sight).closesAt + chosen.endsLater * MINUTE
  const coming = ifResumed(sight, chosen)
  if (!coming) return null
  const { moves, problems, items, since } = coming
  const beyond = problems.filter(({ why }) => why === 'beyond-end').map(({ id }) => id)
  return {
    notice: sayNoticeNow(since, sight.now),
    shifts: shown(
      sight,
      items,
      moves.map(({ id, from, startsAt: to }) => ({ id, from, to })),
    ),
    beyondEnd: items.filter(({ id }) => beyond.includes(id)).map(({ title }) => title),
    streamEndsAt: streamClosesAt,
    endsAt: Math.max(streamClosesAt, ...moves.map(({ endsAt }) => endsAt)),
    thrown: shownThrown(
      items,
      problems.filter(({ why }) => why === 'thrown'),
    ),
  }
}

/** What is thrown, by its title; what it is thrown past is named where it can be dropped. */
function shownThrown(items: readonly ProgrammeItem[], thrown: readonly { id: string; past: string | null }[]): ShownRipple['thrown'] {
  const find = (id: string | null) => items.find((item) => item.id === id)
  return thrown.flatMap(({ id, past }) => {
    const [item, other] = [find(id), find(past)]
    if (!item) return []
    const { kind, title } = item
    return [{ id, kind, title, past: other && other.kind !== 'closing' ? { id: other.id, title: other.title } : null }]
  })
}

function shown(sight: Sight, items: readonly ProgrammeItem[], shifts: readonly Shift[]): ShownShift[] {
  return shifts.flatMap(({ id, from, to }) => {
    const item = items.find((one) => one.id === id)
    if (!item) return []
    const { kind, title, isAnnounced, lot } = item
    return [{ id, kind, title, from, to, isAnnounced, bidders: lot === null ? 0 : readBidders(sight, lot).bidders.length }]
  })
}

/**
 * Moves what the change moves, all of it or nothing, and tells whoever bid on what closes later. What was chosen about the day
 * is done first; what would be thrown far is refused until it was shown and accepted by its id.
 */
export function applyChange(
  turn: Turn,
  actor: Actor,
  { change, reason, shown: asShown, chosen: { drop, endsLater, accepted } }: z.output<typeof applyChangeIn>,
): { moved: number } {
  for (const id of drop) removeItem(turn, id)
  if (endsLater > 0) endLater(turn, actor, { minutes: endsLater, reason })
  const { shifts, beyondEnd, thrown } = previewChange(turn, change)
  const isAsShown = shifts.length === asShown.length && shifts.every(({ id, to }) => asShown.some((one) => one.id === id && one.to === to))
  if (!isAsShown) throw new Refusal('conflict', 'The day has moved on since this was shown. Check what it would do now.')
  if (beyondEnd.length > 0)
    throw new Refusal('conflict', `${beyondEnd.join(', ')} would be after the end of the stream. Make the stream longer first.`)
  const far = thrown.find(({ id }) => !accepted.includes(id))
  if (far) {
    const past = far.past ? `past ${far.past.title}` : 'past what keeps its time'
    throw new Refusal('conflict', `${far.title} would be thrown ${past}. Look at it on the host’s page, and choose.`)
  }
  const lots = new Map(listItems(turn).map(({ id, lot }) => [id, lot]))
  const closings = shifts.flatMap(({ id, to }) => {
    const lot = lots.get(id) ?? null
    return lot === null ? [] : [{ lot, at: to }]
  })
  for (const { id, kind, to } of shifts) if (kind !== 'closing') shiftSpan(turn, id, to, reason)
  placeClosings(turn, closings, reason)
  for (const { lot } of closings) tellOfNewClosing(turn, lot, reason)
  return { moved: shifts.length }
}

const namedIn = (change: DayChange): string[] =>
  change.kind === 'later' ? [change.itemId] : change.kind === 'swap' ? [change.firstId, change.secondId] : []

/** Closings that were wished while a guest is there go with the guest. */
function togetherOf(sight: Sight, items: readonly ProgrammeItem[]): { closingId: string; guestId: string }[] {
  const numberOf = new Map(listLots(sight).map(({ id, number }) => [id, number]))
  return store.listWishes(sight.db).flatMap(({ lotId, guestItemId }) => {
    const closing = items.find(({ lot }) => lot === numberOf.get(lotId))
    return closing && guestItemId ? [{ closingId: closing.id, guestId: guestItemId }] : []
  })
}
