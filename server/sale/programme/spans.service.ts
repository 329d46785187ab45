import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { showClock } from '#kernel/wall-clock'
import { getCampaign } from '#people/campaign/campaign.service'
import { dayOf } from '#people/campaign/stream-days.service'
import type { Turn } from '#runtime/queue/turn'
import { civilParts } from './civil-time.rules'
import type { ResizeItemIn } from './programme.contract'
import { asItRuns, findClash, LONGEST, SHORTEST, slotOf } from './programme.rules'
import { asItem, listItems, told } from './programme.service'
import * as store from './programme.store'

/** Puts a guest or a break at a later time; its length is kept unless its end is given too. */
export function shiftSpan(turn: Turn, itemId: string, startsAt: Instant, reason: string, endsAt?: Instant): void {
  const row = getSpan(turn, itemId)
  const civil = civilParts(startsAt, row.zone)
  const until = endsAt ?? startsAt + row.endsAt - row.startsAt
  store.updateItem(turn.db, itemId, {
    startsAt,
    endsAt: until,
    civilStart: `${civil.on}T${civil.at}`,
    sequence: row.sequence + 1,
    changedAt: turn.now,
  })
  turn.record({
    kind: 'programme.moved',
    subject: `programme:${itemId}`,
    body: { ...told(asItem(row, null, turn.now)), from: row.startsAt, to: startsAt, endedAt: row.endsAt, endsAt: until, reason },
  })
}

/** A guest or a break ends sooner, but not before now: what is on can be cut short, and who waits for its beginning waits for nothing else. */
export function shortenSpan(turn: Turn, { itemId, minutes, reason }: ResizeItemIn): void {
  const row = getSpan(turn, itemId)
  const endsAt = row.endsAt - minutes * MINUTE
  if (row.endsAt <= turn.now) throw Refusal.at('itemId', 'That is over already.', 'too-late')
  if (endsAt < Math.max(turn.now, row.startsAt + SHORTEST))
    throw Refusal.at('minutes', `That leaves less than ${SHORTEST / MINUTE} minutes, or ends it before now. Take fewer, or drop it.`)
  shiftSpan(turn, itemId, row.startsAt, reason, endsAt)
}

/** A guest or a break ends later, as far as nothing stands in the way; nothing else moves. */
export function lengthenSpan(turn: Turn, { itemId, minutes, reason }: ResizeItemIn): void {
  const row = getSpan(turn, itemId)
  const { zone } = getCampaign(turn)
  const { closesAt } = dayOf(turn, row.startsAt)
  const endsAt = row.endsAt + minutes * MINUTE
  if (row.endsAt <= turn.now) throw Refusal.at('itemId', 'That is over already.', 'too-late')
  if (endsAt - row.startsAt > LONGEST) throw Refusal.at('minutes', `That is more than ${LONGEST / MINUTE} minutes in all. Take fewer.`)
  if (endsAt > closesAt) throw Refusal.at('minutes', `The stream ends at ${showClock(closesAt, zone)}. Take fewer, or let it end later.`)
  const others = asItRuns(listItems(turn)).filter(({ isOver }) => !isOver)
  const clash = findClash({ ...asItem(row, null, turn.now), startsAt: row.endsAt, endsAt }, others)
  if (clash)
    throw Refusal.at(
      'minutes',
      `${clash.title} takes its time from ${showClock(slotOf(clash).from, zone)}. Take fewer, or move that first.`,
    )
  shiftSpan(turn, itemId, row.startsAt, reason, endsAt)
}

function getSpan(turn: Turn, itemId: string): store.ItemRow {
  const row = store.findItem(turn.db, itemId)
  if (!row || row.kind === 'closing') throw Refusal.at('itemId', 'That is not in the programme any more. Reload the page.', 'not-found')
  return row
}
