import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { noteChange } from '../changes/changes.service'
import type { Campaign } from './campaign.contract'
import { getCampaign } from './campaign.service'
import {
  dayAt,
  dayAtHand,
  inOrderOfTime,
  overlapping,
  refuseBeyond,
  refuseSpan,
  type Span,
  type StreamDay,
  sayStreamDay,
} from './stream-days.rules'
import * as store from './stream-days.store'

type Days = readonly [StreamDay, ...StreamDay[]]

/** Every day on which the campaign streams, in the order of time; there is always one. */
export const listDays = (sight: Sight): Days => daysOf(sight, getCampaign(sight))

function daysOf({ db }: Pick<Sight, 'db'>, { id, streamOpensAt, streamClosesAt }: Campaign): Days {
  const [first, ...more] = inOrderOfTime([{ opensAt: streamOpensAt, closesAt: streamClosesAt }, ...store.listFurther(db, id)])
  invariant(first !== undefined, 'a campaign streams on one day at least')
  return [first, ...more]
}

/** The day of the campaign that an instant belongs to; see `dayAt`. */
export const dayOf = (sight: Sight, at: Instant): StreamDay => dayAt(listDays(sight), at)

/** The day that is on, has just been, or comes next. */
export const presentDay = (sight: Sight): StreamDay => dayAtHand(listDays(sight), sight.now)

/** When the last day of the campaign ends: what is kept for so many days is kept from then on. */
export const lastDayEnds = (sight: Sight): Instant => Math.max(...listDays(sight).map(({ closesAt }) => closesAt))

/** The day of this number; the one at hand where none is said. */
export function getDay(sight: Sight, number?: number): StreamDay {
  if (number === undefined) return presentDay(sight)
  const found = listDays(sight).find((day) => day.number === number)
  if (!found) throw new Refusal('not-found', 'There is no such day in this campaign. Reload the page.')
  return found
}

/** Which fields of a form say when a day begins and ends. */
interface Fields {
  opens: string
  closes: string
}

function refuseDay(campaign: Campaign, span: Span, others: readonly StreamDay[], fields: Fields): void {
  refuseSpan(span, fields.closes)
  const other = overlapping(others, span)
  if (other) throw Refusal.at(fields.opens, `That runs into the stream day of ${sayStreamDay(other, campaign.zone)}. Choose another time.`)
  if (span.opensAt < campaign.streamOpensAt)
    throw Refusal.at(
      fields.opens,
      `The campaign begins with its first day, ${sayStreamDay({ opensAt: campaign.streamOpensAt, closesAt: campaign.streamClosesAt }, campaign.zone)}. A further day comes after it.`,
    )
}

const said = (days: readonly StreamDay[], zone: string): string => days.map((day) => sayStreamDay(day, zone)).join('; ')

/** The campaign streams on a further day, which must lie ahead and touch none of the others. Nothing else of the programme changes. */
export function addDay(turn: Turn, by: Actor, span: Span, fields: Fields): StreamDay {
  const campaign = getCampaign(turn)
  if (span.opensAt <= turn.now) throw Refusal.at(fields.opens, 'That time has passed. Choose a later one.')
  refuseDay(campaign, span, listDays(turn), fields)
  changing(turn, by, () => store.insertDay(turn.db, { id: turn.dice.id(), campaignId: campaign.id, ...span }))
  return dayOf(turn, span.opensAt)
}

/** A further day is moved; whoever asks has made sure that everything which stands in it has room there. */
export function moveDay(turn: Turn, by: Actor, day: StreamDay, to: Span, fields: Fields): StreamDay {
  invariant(day.number > 1, 'the first day is the campaign’s own')
  const campaign = getCampaign(turn)
  const others = listDays(turn).filter(({ number }) => number !== day.number)
  refuseDay(campaign, to, others, fields)
  changing(turn, by, () => store.changeDay(turn.db, campaign.id, day.opensAt, to))
  return dayOf(turn, to.opensAt)
}

/** A further day is taken away again; whoever asks has made sure that nothing stands in it. */
export function dropDay(turn: Turn, by: Actor, day: StreamDay): void {
  invariant(day.number > 1, 'the first day is the campaign’s own')
  changing(turn, by, () => store.deleteDay(turn.db, getCampaign(turn).id, day.opensAt))
}

/** A day ends later than it was to. */
export function moveDayEnd(turn: Turn, day: StreamDay, closesAt: Instant, by: Actor): void {
  invariant(closesAt > day.closesAt, 'what was announced moves later only')
  const campaign = getCampaign(turn)
  const to = { opensAt: day.opensAt, closesAt }
  refuseSpan(to, 'minutes', day.closesAt - day.opensAt)
  const next = listDays(turn).find(({ number }) => number === day.number + 1)
  if (next) refuseBeyond(next, closesAt, campaign.zone, 'minutes')
  changing(turn, by, () => {
    if (day.number === 1) store.moveFirstEnd(turn.db, campaign.id, closesAt)
    else store.changeDay(turn.db, campaign.id, day.opensAt, to)
  })
}

function changing(turn: Turn, by: Actor, change: () => void): void {
  const { name, zone } = getCampaign(turn)
  const before = said(listDays(turn), zone)
  change()
  noteChange(turn, by, { kind: 'campaign', what: 'when the campaign streams', before, after: said(listDays(turn), zone) })
  turn.record({ kind: 'campaign.changed', subject: 'campaign', body: { name } })
}
