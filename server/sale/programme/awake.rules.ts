import { DateTime } from 'luxon'
import { type Instant, MINUTE } from '#kernel/instant'
import type { Window } from './programme.rules'

/**
 * How much of an audience is awake and free at a local hour, 0 to 1. Common practice, no source:
 * night 0.06, early morning 0.3, working day 0.55, evening 1, late evening 0.4.
 */
export function awakeWeight(localHour: number): number {
  if (localHour < 6) return 0.06
  if (localHour < 8) return 0.3
  if (localHour < 17) return 0.55
  if (localHour < 23) return 1
  return 0.4
}

export interface Band {
  from: Instant
  to: Instant
  weight: number
}

/** The window cut where the weight of a zone changes; half-hour zones and clock changes fall right. */
export function awakeBands(window: Window, zone: string): Band[] {
  const step = 15 * MINUTE
  const bands: Band[] = []
  for (let from = window.opensAt; from < window.closesAt; from += step) {
    const to = Math.min(from + step, window.closesAt)
    const weight = awakeWeight(DateTime.fromMillis(from, { zone }).hour)
    const last = bands.at(-1)
    if (last && last.weight === weight) last.to = to
    else bands.push({ from, to, weight })
  }
  return bands
}

export interface AudienceZone {
  zone: string
  shareBp: number
}

/** The share of the whole audience that is awake at an instant, 0 to 1; shares are basis points. */
export function awakeShare(audience: readonly AudienceZone[], at: Instant): number {
  const whole = audience.reduce((sum, { shareBp }) => sum + shareBp, 0)
  if (whole === 0) return 0
  const awake = audience.reduce((sum, { zone, shareBp }) => sum + shareBp * awakeWeight(DateTime.fromMillis(at, { zone }).hour), 0)
  return awake / whole
}
