import { instantOf } from '#kernel/civil'
import { Refusal } from '#kernel/refusal'
import { showClock, showDay } from '#kernel/wall-clock'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Span, StreamDay } from '#people/campaign/stream-days.rules'
import { addDay, dropDay, getDay, listDays, moveDay } from '#people/campaign/stream-days.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { AddDayIn, MoveDayIn, ProgrammeItem, StreamDayLine } from './programme.contract'
import { beginOf, slotOf } from './programme.rules'
import { listItemsOfDay } from './programme.service'

/** Which fields of the form say when a day begins and ends. */
const FIELDS = { opens: 'opens', closes: 'closes' }

/** Every stream day of the campaign with what stands in it, and why it cannot be taken away. */
export const listStreamDays = (sight: Sight): StreamDayLine[] =>
  listDays(sight).map((day) => ({
    ...day,
    closings: listItemsOfDay(sight, day).filter(({ kind }) => kind === 'closing').length,
    whyKept: whyKept(sight, day),
  }))

/** The campaign streams on a further day. What has been announced for the others stays as it is. */
export function addStreamDay(turn: Turn, by: Actor, input: AddDayIn): StreamDay {
  const day = addDay(turn, by, spanOf(turn, input), FIELDS)
  turn.record({ kind: 'programme.day-added', subject: 'programme', body: { opensAt: day.opensAt, closesAt: day.closesAt } })
  return day
}

/** A further day is moved, as far as everything that stands in it has room there: nothing in it moves by this. */
export function moveStreamDay(turn: Turn, by: Actor, { day: number, ...input }: MoveDayIn): StreamDay {
  const day = getDay(turn, number)
  const to = spanOf(turn, input)
  if (day.opensAt <= turn.now && to.opensAt !== day.opensAt)
    throw Refusal.at('opens', `It began at ${showClock(day.opensAt, getCampaign(turn).zone)}, and that stays. Its end can still move.`)
  if (day.opensAt > turn.now && to.opensAt <= turn.now) throw Refusal.at('opens', 'That time has passed. Choose a later one.')
  if (to.closesAt !== day.closesAt && to.closesAt <= turn.now) throw Refusal.at('closes', 'That time has passed. Choose a later one.')
  const items = listItemsOfDay(turn, day).map((item) => ({ item, ...slotOf({ ...item, startsAt: beginOf(item) }) }))
  const early = items.find(({ from }) => from < to.opensAt)
  if (early) throw Refusal.at('opens', roomWords(turn, early.item))
  const late = items.find(({ item }) => Math.max(item.endsAt, item.runsTo) > to.closesAt)
  if (late) throw Refusal.at('closes', roomWords(turn, late.item))
  const moved = moveDay(turn, by, day, to, FIELDS)
  turn.record({ kind: 'programme.day-moved', subject: 'programme', body: { from: day.opensAt, ...to } })
  return moved
}

/** A further day is taken away again. One that anything stands in stays. */
export function removeStreamDay(turn: Turn, by: Actor, { day: number }: { day: number }): void {
  const day = getDay(turn, number)
  const why = whyKept(turn, day)
  if (why !== null) throw Refusal.at('day', why, 'conflict')
  dropDay(turn, by, day)
  turn.record({ kind: 'programme.day-removed', subject: 'programme', body: { opensAt: day.opensAt, closesAt: day.closesAt } })
}

function whyKept(sight: Sight, day: StreamDay): string | null {
  if (day.number === 1) return 'This is the campaign’s first day, which is changed with the campaign itself.'
  const items = listItemsOfDay(sight, day)
  const titles = items.map(({ title }) => title)
  if (titles.length === 0) return day.opensAt <= sight.now ? 'It has begun, so it stays in the record.' : null
  const first = titles.slice(0, 3).join(', ')
  const more = titles.length > 3 ? ` and ${titles.length - 3} more` : ''
  const way = items.some(({ isOver }) => isOver)
    ? 'so it stays in the record'
    : 'so it cannot be taken away. Move them to another day first'
  return `${first}${more} ${titles.length === 1 ? 'stands' : 'stand'} in it, ${way}.`
}

function spanOf(turn: Turn, { opens, closes }: AddDayIn): Span {
  const { zone } = getCampaign(turn)
  return { opensAt: instantOf(opens, zone, 'opens'), closesAt: instantOf(closes, zone, 'closes') }
}

function roomWords(turn: Turn, item: ProgrammeItem): string {
  const { zone } = getCampaign(turn)
  const at = beginOf(item)
  return `${item.title} stands at ${showClock(at, zone)} on ${showDay(at, zone)} and would not have room any more. Move it first.`
}
