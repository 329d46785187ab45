import { DateTime, IANAZone } from 'luxon'
import type { Instant } from './instant'
import { Refusal } from './refusal'

export const isZone = (zone: string): boolean => IANAZone.isValidZone(zone)

/**
 * The instants that a civil time (`2027-10-31T01:30`) names in a zone: one on most days, two in the
 * hour that an autumn change repeats (earlier first), none in the hour that a spring change skips.
 */
export function instantsOf(civil: string, zone: string): Instant[] {
  const asUtc = DateTime.fromISO(civil, { zone: 'utc' })
  if (!asUtc.isValid) return []
  const wall = asUtc.toMillis()
  const named = IANAZone.create(zone)
  // Every offset in force within a day either side is tried; a candidate counts when it reads back as what was written.
  const offsets = [-36, -12, 0, 12, 36].map((hours) => named.offset(wall + hours * 3_600_000))
  const candidates = [...new Set(offsets)].map((minutes) => wall - minutes * 60_000)
  return candidates.filter((at) => at + named.offset(at) * 60_000 === wall).sort((a, b) => a - b)
}

/** One instant for what a person wrote at `field`; a doubled hour means the first, a skipped one is refused in words. */
export function instantOf(civil: string, zone: string, field: string): Instant {
  const [first] = instantsOf(civil, zone)
  if (first !== undefined) return first
  if (!DateTime.fromISO(civil, { zone: 'utc' }).isValid) throw Refusal.at(field, 'Write a day and a time, such as 2027-03-13 19:40.')
  throw Refusal.at(field, `The clocks in ${zone} skip that time. Choose one an hour earlier or later.`)
}

/** `2027-03-13T19:40` in the zone: what a form's field shows. */
export const civilOf = (at: Instant, zone: string): string => DateTime.fromMillis(at, { zone }).toFormat("yyyy-MM-dd'T'HH:mm")

/** The day of an instant in the zone: `2027-03-13`, its first instant and that of the next day, also where clocks skip a midnight. */
export function civilDayOf(at: Instant, zone: string): { day: string; from: Instant; to: Instant } {
  const start = DateTime.fromMillis(at, { zone }).startOf('day')
  return { day: start.toISODate() ?? '', from: start.toMillis(), to: start.plus({ days: 1 }).startOf('day').toMillis() }
}
