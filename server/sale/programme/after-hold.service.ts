import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { presentDay } from '#people/campaign/stream-days.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findHoldOfAll, findHoldOfLot, listStanding, resumeClosings, resumeLot } from '../closings/holds.service'
import { settleOutage } from '../closings/outage.service'
import { tellOfNewClosing } from '../letters/letters.service'
import { type DayProblem, type GoingOn, goingOn } from './going-on.rules'
import type { GoingOnIn, ProgrammeItem, ResumeAllIn } from './programme.contract'
import { asItRuns } from './programme.rules'
import { endLater, listItems, removeItem } from './programme.service'
import { shiftSpan } from './spans.service'

export const AS_IT_IS: GoingOnIn = { drop: [], endsLater: 0 }

/** What would become of the day if all clocks went on at this instant. */
export interface IfResumed extends GoingOn {
  since: Instant
  items: ProgrammeItem[]
}

export function ifResumed(sight: Sight, chosen: GoingOnIn = AS_IT_IS): IfResumed | null {
  const hold = findHoldOfAll(sight)
  return hold && { since: hold.since, ...dayGoesOn(sight, hold.since, listStanding(sight, hold.since), chosen) }
}

/**
 * All clocks go on, and the rest of the day makes room; whoever bid on a closing that moved is told. What would be thrown
 * further than the clocks stood, or past the end, is refused until it is accepted by its id or the day is changed; what was
 * chosen about the day is done first, in the same turn.
 */
export function resumeDay(turn: Turn, actor: Actor, { accepted = [], drop = [], endsLater = 0 }: ResumeAllIn = {}): { shiftMs: number } {
  const hold = findHoldOfAll(turn)
  for (const id of hold ? drop : []) removeItem(turn, id)
  if (hold && endsLater > 0) endLater(turn, actor, { minutes: endsLater, reason: `All clocks were held: ${hold.reason}` })
  const coming = ifResumed(turn)
  refuseProblems(coming, accepted)
  const before = listItems(turn)
  const answer = resumeClosings(turn, actor, placesOf(coming))
  const reason = `All clocks were held: ${hold?.reason ?? ''}`
  moveSpans(turn, coming, reason, accepted)
  tellOfMoved(turn, before, reason)
  return answer
}

/** The clock of one lot goes on, at the first time that is free; guests and breaks in its new minutes make way. */
export function resumeLotOfDay(turn: Turn, actor: Actor, input: { lot: number }) {
  const since = findHoldOfLot(turn, input.lot)
  const day = since === null ? null : dayGoesOn(turn, since, [input.lot])
  const row = resumeLot(turn, actor, input, placesOf(day).get(input.lot))
  moveSpans(turn, day, `Lot ${input.lot} was held.`)
  return row
}

const OUTAGE = 'The house was down.'

/**
 * What the silence before this start means, for the closings and for the rest of the day. Nobody can be asked now: a guest or
 * a break that would be thrown stays where it was, in the way, and the host's page says so.
 */
export function settleOutageOfDay(turn: Turn): void {
  const before = findCampaign(turn) ? listItems(turn) : []
  let day: GoingOn | null = null
  const outage = settleOutage(turn, ({ from }, lots) => {
    day = findCampaign(turn) ? dayGoesOn(turn, from, lots) : null
    return placesOf(day)
  })
  if (!outage) return
  moveSpans(turn, day, OUTAGE)
  tellOfMoved(turn, before, OUTAGE)
}

/** The day when the clocks of these lots go on now; lots that are not in the programme follow their own rule. */
function dayGoesOn(
  sight: Sight,
  since: Instant,
  lots: readonly number[],
  { drop, endsLater }: GoingOnIn = AS_IT_IS,
): GoingOn & { items: ProgrammeItem[] } {
  const { opensAt, closesAt } = presentDay(sight)
  const items = listItems(sight).filter(({ id, kind }) => kind === 'closing' || !drop.includes(id))
  const isStanding = ({ lot }: ProgrammeItem) => lot !== null && lots.includes(lot)
  // A lot that is held for a reason of its own has no time yet, so it stands in nobody's way.
  // Whoever was to be on while the clocks stood has not been on.
  const day = items
    .filter((item) => isStanding(item) || !item.isHeld)
    .map((item) => (item.kind === 'closing' ? item : { ...item, isOver: item.endsAt <= since }))
  const stood = new Set(items.filter(isStanding).map(({ id }) => id))
  const window = { opensAt, closesAt: closesAt + endsLater * MINUTE }
  return { ...goingOn({ items: asItRuns(day), stood, since, now: sight.now, window }), items }
}

function placesOf(day: (GoingOn & { items?: ProgrammeItem[] }) | null): Map<number, Instant> {
  return new Map(
    (day?.moves ?? []).flatMap(({ id, startsAt }): [number, Instant][] => {
      const lot = day?.items?.find((item) => item.id === id)?.lot ?? null
      return lot === null ? [] : [[lot, startsAt]]
    }),
  )
}

function refuseProblems(day: IfResumed | null, accepted: readonly string[]): void {
  const left = (day?.problems ?? []).filter(({ id, why }) => why === 'beyond-end' || !accepted.includes(id))
  const [first] = left
  if (!day || !first) return
  const title = (id: string | null) => day.items.find((item) => item.id === id)?.title ?? ''
  const words: Record<DayProblem['why'], string> = {
    'beyond-end': `${title(first.id)} would come after the end of the stream. Let the stream end later, or drop a break.`,
    thrown: `${title(first.id)} would move ${
      first.past === null ? 'further than the clocks stood' : `past ${title(first.past)}`
    }. Look at it on the host’s page, and choose.`,
  }
  throw new Refusal('conflict', words[first.why])
}

/** Whoever bid on a lot that closes later now is told. */
function tellOfMoved(turn: Turn, before: readonly ProgrammeItem[], reason: string): void {
  for (const { lot, runsTo } of listItems(turn)) {
    if (lot !== null && before.some((was) => was.lot === lot && was.runsTo < runsTo)) tellOfNewClosing(turn, lot, reason)
  }
}

function moveSpans(turn: Turn, day: GoingOn | null, reason: string, accepted: readonly string[] = []): void {
  const asked = new Set((day?.problems ?? []).map(({ id }) => id).filter((id) => !accepted.includes(id)))
  for (const { id, kind, startsAt, endsAt } of day?.moves ?? []) {
    if (kind !== 'closing' && !asked.has(id)) shiftSpan(turn, id, startsAt, reason, endsAt)
  }
}
