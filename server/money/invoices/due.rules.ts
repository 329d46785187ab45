import { civilOf, instantsOf } from '#kernel/civil'
import { DAY, type Instant } from '#kernel/instant'

/** The day `days` after a day, `2027-03-14`. */
export function dayAfter(day: string, days: number): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
  return new Date(Date.UTC(year, month - 1, date + days)).toISOString().slice(0, 10)
}

/** The latest of several days; the empty text for none. */
export const latestDay = (days: readonly string[]): string => days.toSorted().at(-1) ?? ''

/** The day by which a sale is to be paid, in the campaign's zone. */
export const dueOn = (soldAt: Instant, dueDays: number, zone: string): string => dayAfter(civilOf(soldAt, zone).slice(0, 10), dueDays)

/** Days from the due day to today; below nought it is not due yet. */
export function daysLate(due: string, now: Instant, zone: string): number {
  return Math.round((Date.parse(civilOf(now, zone).slice(0, 10)) - Date.parse(due)) / DAY)
}

export interface ReminderFacts {
  due: string
  now: Instant
  zone: string
  /** Days after the due day: 2, 4, 7 (common practice). */
  reminderDays: readonly number[]
  /** Steps that went out already, from 1. */
  sent: readonly number[]
  offerAfterDays: number
  owedMinor: number
}

export type Falls =
  | { is: 'nothing' }
  | { is: 'waits'; step: number; on: string }
  | { is: 'reminder'; step: number }
  | { is: 'offer'; reminder: number | null }

/**
 * What falls due for one lot that is sold: nothing once it is paid; the latest reminder whose day has come, if neither it
 * nor a later one went out; the offer to the one behind once that day has come, with the reminder that is still to go out; else
 * the day of the next step.
 */
export function whatFallsDue({ due, now, zone, reminderDays, sent, offerAfterDays, owedMinor }: ReminderFacts): Falls {
  if (owedMinor <= 0) return { is: 'nothing' }
  const late = daysLate(due, now, zone)
  const steps = reminderDays.map((days, index) => ({ step: index + 1, days }))
  const ripe = steps.findLast(({ days }) => days <= late)
  const last = Math.max(0, ...sent)
  if (late >= offerAfterDays) return { is: 'offer', reminder: ripe && ripe.step > last ? ripe.step : null }
  if (ripe && ripe.step > last) return { is: 'reminder', step: ripe.step }
  const next = steps.find(({ step }) => step > Math.max(last, ripe?.step ?? 0))
  return next ? { is: 'waits', step: next.step, on: dayAfter(due, next.days) } : { is: 'nothing' }
}

/** The reminder that is to go out now; null where none is. */
export function ripeReminder(falls: Falls): number | null {
  if (falls.is === 'reminder') return falls.step
  return falls.is === 'offer' ? falls.reminder : null
}

/** Nine in the morning of a day in the zone: when a reminder leaves by itself. */
export const morningOf = (day: string, zone: string): Instant => instantsOf(`${day}T09:00`, zone)[0] ?? Date.parse(`${day}T09:00:00Z`)
