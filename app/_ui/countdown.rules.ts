import { DAY, HOUR, type Instant, MINUTE, SECOND } from '#kernel/instant'
import { leftUntil } from '#sale/price/closing.rules'

/** "3 days 4 h", "2 h 05 min", "5 min 42 s", "42 s", "0 s". Seconds are rounded up: 0 is shown only when the time is up. */
export function sayLeft(leftMs: number): string {
  const left = Math.max(0, Math.ceil(leftMs / SECOND)) * SECOND
  const days = Math.floor(left / DAY)
  const hours = Math.floor((left % DAY) / HOUR)
  const minutes = Math.floor((left % HOUR) / MINUTE)
  const seconds = Math.floor((left % MINUTE) / SECOND)
  if (days > 0) return `${days} ${days === 1 ? 'day' : 'days'} ${hours} h`
  if (hours > 0) return `${hours} h ${two(minutes)} min`
  return minutes > 0 ? `${minutes} min ${two(seconds)} s` : `${seconds} s`
}

/** "5:42", "2:05:07": for a screen across the room. */
export function clockLeft(leftMs: number): string {
  const left = Math.max(0, Math.ceil(leftMs / SECOND))
  const hours = Math.floor(left / 3600)
  const minutes = Math.floor((left % 3600) / 60)
  return hours > 0 ? `${hours}:${two(minutes)}:${two(left % 60)}` : `${minutes}:${two(left % 60)}`
}

const two = (n: number) => n.toString().padStart(2, '0')

const SPOKEN = [
  { at: 10 * MINUTE, words: 'Ten minutes left.' },
  { at: 5 * MINUTE, words: 'Five minutes left.' },
  { at: MINUTE, words: 'One minute left.' },
  { at: 10 * SECOND, words: 'Ten seconds left.' },
  { at: 0, words: 'Time is up.' },
] as const

/**
 * What to say when the time left has gone from `before` to `now`: the last mark that was passed, so
 * that a tab which slept through two says only where things stand. Time that was added says nothing
 * here: an extension has an alert of its own.
 */
export function announce(before: number, now: number): string | null {
  if (now >= before) return null
  const passed = SPOKEN.filter(({ at }) => before > at && now <= at)
  return passed.at(-1)?.words ?? null
}

/** What is said from now on, of what was said so far: of a clock that stands, or was given time, that is no longer true. */
export function saidNow(said: string, before: number | null, now: number | null): string {
  if (now === null || (before !== null && now > before)) return ''
  return (before === null ? null : announce(before, now)) ?? said
}

/** Milliseconds until the shown second changes next; at least 20, so that a clock set back cannot spin. */
export function untilNextSecond(leftMs: number): number {
  const rest = leftMs % SECOND
  return Math.max(20, (rest <= 0 ? rest + SECOND : rest) + 1)
}

export type CountdownState = 'running' | 'ended'

/** What stands where the time would: a countdown says that time is up, only the house says that a lot is closed. */
export function countdownWords(state: CountdownState, closesAt: Instant | null, now: Instant, heldSince: Instant | null = null): string {
  if (state === 'ended') return 'Closed'
  if (closesAt === null) return 'Not yet in the programme'
  if (heldSince !== null) return `Held with ${sayLeft(leftUntil(closesAt, now, heldSince))} left`
  return closesAt > now ? sayLeft(closesAt - now) : 'Time is up'
}
