import { DateTime } from 'luxon'
import { type Instant, MINUTE } from '#kernel/instant'
import type { Window } from './programme.rules'

/** Where an audience is awake or asleep: its zone, and the days on which nobody works there besides weekends. */
export interface Place {
  zone: string
  /** Days such as 2027-03-26. */
  daysOff?: readonly string[]
}

/** Zones in which the free days of the week are not Saturday and Sunday, as the Unicode tables of weeks have them; 1 is Monday. */
const WEEKENDS: Record<string, readonly number[]> = {
  'Asia/Tehran': [5],
  'Asia/Kabul': [4, 5],
  'Asia/Kathmandu': [6],
  'Asia/Kolkata': [7],
  ...Object.fromEntries(
    [
      ...['Africa/Algiers', 'Africa/Cairo', 'Africa/Khartoum', 'Africa/Tripoli', 'Asia/Aden', 'Asia/Amman', 'Asia/Baghdad'],
      ...['Asia/Bahrain', 'Asia/Damascus', 'Asia/Jerusalem', 'Asia/Kuwait', 'Asia/Muscat', 'Asia/Qatar', 'Asia/Riyadh'],
    ].map((zone) => [zone, [5, 6]]),
  ),
}
const USUAL_WEEKEND = [6, 7]

function isFree(day: DateTime, { zone, daysOff = [] }: Place): boolean {
  return (WEEKENDS[zone] ?? USUAL_WEEKEND).includes(day.weekday) || daysOff.includes(day.toISODate() ?? '')
}

/**
 * How much of an audience is awake and free at an instant, 0 to 1. Common practice, no source. Of a working day: night 0.06,
 * early morning 0.3, work 0.55, evening 1, late evening 0.4. Of a free day the morning begins later, the afternoon counts for
 * more, and the evening before one is longer.
 */
export function awakeWeight(at: Instant, place: Place): number {
  const local = DateTime.fromMillis(at, { zone: place.zone })
  const { hour } = local
  if (hour < 6) return 0.06
  if (hour === 23) return isFree(local.plus({ days: 1 }), place) ? 0.6 : 0.4
  if (hour >= 17) return 1
  if (!isFree(local, place)) return hour < 8 ? 0.3 : 0.55
  if (hour < 8) return 0.1
  return hour < 10 ? 0.45 : 0.8
}

export interface Band {
  from: Instant
  to: Instant
  weight: number
}

/** The window cut where the weight of a place changes; half-hour zones and clock changes fall right. */
export function awakeBands(window: Window, place: Place): Band[] {
  const step = 15 * MINUTE
  const bands: Band[] = []
  for (let from = window.opensAt; from < window.closesAt; from += step) {
    const to = Math.min(from + step, window.closesAt)
    const weight = awakeWeight(from, place)
    const last = bands.at(-1)
    if (last && last.weight === weight) last.to = to
    else bands.push({ from, to, weight })
  }
  return bands
}

export interface AudienceZone extends Place {
  shareBp: number
}

/** The share of the whole audience that is awake at an instant, 0 to 1; shares are basis points. */
export function awakeShare(audience: readonly AudienceZone[], at: Instant): number {
  const whole = audience.reduce((sum, { shareBp }) => sum + shareBp, 0)
  if (whole === 0) return 0
  return audience.reduce((sum, one) => sum + one.shareBp * awakeWeight(at, one), 0) / whole
}
