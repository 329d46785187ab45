import type { Instant } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findHoldOfAll, resumeClosings, resumeLot, shiftIfResumed } from '../closings/holds.service'
import { settleOutage } from '../closings/outage.service'
import { tellOfNewClosing } from '../letters/letters.service'
import { shiftSpan } from './place.service'
import type { ProgrammeItem } from './programme.contract'
import { asItRuns } from './programme.rules'
import { listItems } from './programme.service'
import { type SpanMove, spansAfterHold } from './ripple.rules'

/** All clocks go on, and the rest of the day with them; whoever bid on a closing that moved is told. */
export function resumeDay(turn: Turn, actor: Actor): { shiftMs: number } {
  const hold = findHoldOfAll(turn)
  const before = listItems(turn)
  const { shiftMs } = resumeClosings(turn, actor)
  const reason = `All clocks were held: ${hold?.reason ?? ''}`
  followShift(turn, hold?.since ?? turn.now, shiftMs, reason)
  tellOfMoved(turn, before, reason)
  return { shiftMs }
}

/** The clock of one lot goes on; a break in its new minutes makes way. */
export function resumeLotOfDay(turn: Turn, actor: Actor, input: { lot: number }) {
  const row = resumeLot(turn, actor, input)
  followShift(turn, turn.now, 0, `Lot ${input.lot} was held.`)
  return row
}

const OUTAGE = 'The house was down.'

/** What the silence before this start means, for the closings and for the rest of the day. */
export function settleOutageOfDay(turn: Turn): void {
  const before = findCampaign(turn) ? listItems(turn) : []
  const outage = settleOutage(turn)
  if (!outage) return
  followShift(turn, outage.from, outage.shiftMs, OUTAGE)
  tellOfMoved(turn, before, OUTAGE)
}

/** What would move if all clocks went on at this instant. */
export function ifResumed(sight: Sight): { since: Instant; shiftMs: number; spans: SpanMove[]; items: ProgrammeItem[] } | null {
  const hold = findHoldOfAll(sight)
  if (!hold) return null
  const shiftMs = shiftIfResumed(sight, hold.since)
  const items = listItems(sight)
  const moved = items.map((item) =>
    item.kind === 'closing' && !item.isOver && item.runsTo > hold.since ? { ...item, runsTo: item.runsTo + shiftMs } : item,
  )
  return { since: hold.since, shiftMs, spans: spansAfterHold(asItRuns(moved), hold.since, shiftMs), items }
}

/** Whoever bid on a lot that closes later now is told. */
function tellOfMoved(turn: Turn, before: readonly ProgrammeItem[], reason: string): void {
  for (const { lot, runsTo } of listItems(turn)) {
    if (lot !== null && before.some((was) => was.lot === lot && was.runsTo < runsTo)) tellOfNewClosing(turn, lot, reason)
  }
}

function followShift(turn: Turn, since: Instant, shiftMs: number, reason: string): void {
  for (const { id, startsAt, endsAt } of spansAfterHold(asItRuns(listItems(turn)), since, shiftMs))
    shiftSpan(turn, id, startsAt, reason, endsAt)
}
