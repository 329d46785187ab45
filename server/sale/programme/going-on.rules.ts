import { type Instant, MINUTE } from '#kernel/instant'
import { afterStanding } from '../price/closing.rules'
import { findClash, type ItemKind, slotOf, type Window } from './programme.rules'
import { at, type ItemOfDay, inOrder, makeRoom } from './ripple.rules'

/** Where an item stands once the clocks go on; a guest who was on may only stay longer. */
export interface ItemMove {
  id: string
  kind: ItemKind
  from: Instant
  startsAt: Instant
  endsAt: Instant
}

/** What going on would do to the day that nobody would want done unasked. */
export interface DayProblem {
  id: string
  /** It would be thrown further than the clocks stood, past what keeps its time; or past the end of the stream. */
  why: 'thrown' | 'beyond-end'
  /** What it would be thrown past. */
  past: string | null
}

export interface GoingOn {
  moves: ItemMove[]
  problems: DayProblem[]
}

export interface StandingDay {
  /** The day with its closings where they stand now. */
  items: readonly ItemOfDay[]
  /** Closings whose clocks stood still. */
  stood: ReadonlySet<string>
  since: Instant
  now: Instant
  window: Window
}

/**
 * What the day does when clocks go on at `now` that stood from `since`: a closing with too little time left gets its notice,
 * and what stands in the way of something moves to the first minute at which it does not, in order. All else stays: the gaps
 * of the day are used up as by a late guest. Nothing moves earlier. Whoever was on when it began stays so much longer.
 */
export function goingOn({ items, stood, since, now, window }: StandingDay): GoingOn {
  const length = Math.ceil((now - since) / MINUTE) * MINUTE
  // What is over stands in nobody's way: what late bids allowed before the clocks stood is no clash afterwards.
  const day = items.filter(({ isOver, endsAt }) => !isOver && endsAt > since)
  const isFast = (item: ItemOfDay) => (item.kind === 'closing' ? !stood.has(item.id) : item.keepsTime && item.startsAt > since)
  const fast = day.filter(isFast)
  const placed = [...fast]
  const moves: ItemMove[] = []
  const problems: DayProblem[] = []
  // The furthest that anything must move for itself: what moves further than that was thrown.
  let due = length
  for (const item of inOrder(day.filter((one) => !isFast(one)))) {
    const wanted = wantedFor(item, { since, now, length, placed })
    const moved =
      wanted.startsAt === item.startsAt && item.kind !== 'closing' && item.startsAt <= since ? wanted : makeRoom(item, wanted, placed, day)
    if (item.kind === 'closing') due = Math.max(due, wanted.startsAt - item.startsAt)
    placed.push(moved)
    if (moved.startsAt === item.startsAt && moved.endsAt === item.endsAt) continue
    moves.push({ id: item.id, kind: item.kind, from: item.startsAt, startsAt: moved.startsAt, endsAt: moved.endsAt })
    if (moved.endsAt > window.closesAt) problems.push({ id: item.id, why: 'beyond-end', past: null })
    else if (moved.startsAt - item.startsAt > due + MINUTE)
      problems.push({ id: item.id, why: 'thrown', past: findClash(at(item, item.startsAt + due), fast)?.id ?? null })
  }
  return { moves: moves.sort((a, b) => a.startsAt - b.startsAt), problems }
}

interface Standing {
  since: Instant
  now: Instant
  length: number
  placed: readonly ItemOfDay[]
}

/** The time that the standing still alone asks for. */
function wantedFor(item: ItemOfDay, { since, now, length, placed }: Standing): ItemOfDay {
  if (item.kind === 'closing') return at(item, afterStanding(item.startsAt, since, now))
  if (item.startsAt > since) return item.startsAt >= now ? item : at(item, Math.ceil(now / MINUTE) * MINUTE)
  // Whoever is on stays on longer, but not into what keeps its time.
  const longer = { ...item, endsAt: item.endsAt + length }
  const next = findClash(
    { ...longer, startsAt: item.endsAt },
    placed.filter(({ startsAt }) => startsAt >= item.endsAt),
  )
  return next ? { ...item, endsAt: Math.max(item.endsAt, slotOf(next).from) } : longer
}
