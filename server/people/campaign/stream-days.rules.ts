import { DAY, HOUR, type Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { showClock, showDay } from '#kernel/wall-clock'

/** A day on which the campaign streams; it may reach past midnight. */
export interface StreamDay {
  /** Which of the campaign's days it is, from one on, in the order of time. */
  number: number
  opensAt: Instant
  closesAt: Instant
}

export type Span = Pick<StreamDay, 'opensAt' | 'closesAt'>

const LONGEST_STREAM = 3 * DAY

/** For so long after its end a day is still the one at hand: its last closings may be extended, and people look at how it went. */
const LINGERS = 12 * HOUR

export function inOrderOfTime(spans: readonly Span[]): StreamDay[] {
  return [...spans].sort((a, b) => a.opensAt - b.opensAt).map(({ opensAt, closesAt }, index) => ({ number: index + 1, opensAt, closesAt }))
}

/**
 * The one day that an instant belongs to: the last that has opened by then, or the first before any has. So whatever closes
 * after the end of its day, since late bids moved it, still belongs to that one, and nothing belongs to two.
 */
export function dayAt<Each extends Span>(days: readonly [Each, ...Each[]], at: Instant): Each {
  return days.findLast(({ opensAt }) => opensAt <= at) ?? days[0]
}

/** The day that is at hand: the one that is on or has just been, else the one that comes next, else the last. */
export function dayAtHand<Each extends Span>(days: readonly [Each, ...Each[]], now: Instant): Each {
  const last = dayAt(days, now)
  const next = days.find(({ opensAt }) => opensAt > now)
  return next === undefined || now < last.closesAt + LINGERS ? last : next
}

/** Of several days the one that an instant lies in; null where it lies in none. */
export const dayWith = <Each extends Span>(days: readonly Each[], at: Instant): Each | null =>
  days.find(({ opensAt, closesAt }) => opensAt <= at && at <= closesAt) ?? null

/** A day that this one would run into; null where there is none. */
export const overlapping = <Each extends Span>(days: readonly Each[], { opensAt, closesAt }: Span): Each | null =>
  days.find((day) => day.opensAt < closesAt && opensAt < day.closesAt) ?? null

/** "Saturday 13 March, 13:00 to 21:00", with the day of its end where that is another. */
export function sayStreamDay({ opensAt, closesAt }: Span, zone: string): string {
  const [from, to] = [showDay(opensAt, zone), showDay(closesAt, zone)]
  return `${from}, ${showClock(opensAt, zone)} to ${from === to ? '' : `${to}, `}${showClock(closesAt, zone)}`
}

/** Refuses what no day of a stream can be: one that ends before it begins, or is too long; `longest` is more where an older house has it so. */
export function refuseSpan({ opensAt, closesAt }: Span, field: string, longest = LONGEST_STREAM): void {
  if (closesAt <= opensAt) throw Refusal.at(field, 'The stream ends before it begins. Check the day.')
  const length = closesAt - opensAt
  if (length <= Math.max(LONGEST_STREAM, longest)) return
  throw Refusal.at(
    field,
    `A stream lasts at most ${LONGEST_STREAM / DAY} days, and this would be ${Math.ceil(length / DAY)}. Check the day. What is left after the stream can be sold on another stream day, or at a fixed price once its lot has ended; the stream need not go on for that.`,
  )
}

/** Refuses a day that would end after the next one has begun. */
export function refuseBeyond(next: Span, closesAt: Instant, zone: string, field: string): void {
  if (closesAt > next.opensAt) throw Refusal.at(field, `The next stream day is ${sayStreamDay(next, zone)}. Let this one end before that.`)
}
