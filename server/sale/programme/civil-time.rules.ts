import { DateTime, IANAZone } from 'luxon'
import { instantsOf } from '#kernel/civil'
import { DAY, type Instant, MINUTE } from '#kernel/instant'
import { showClock, zonePlace } from '#kernel/wall-clock'

/**
 * How a civil time ("2026-10-25T01:30" in a zone) falls on the line of instants. Where the clocks go
 * back it occurs twice, where they go forward never. It is resolved once, when it is written down:
 * luxon's own choice for a doubled hour depends on the date on which it runs.
 */
export type CivilFit =
  | { fits: 'once'; at: Instant }
  | { fits: 'twice'; earlier: Instant; later: Instant }
  | { fits: 'never'; earlier: Instant; later: Instant }

/** `local` is "yyyy-MM-ddTHH:mm"; null when there is no such day or hour in any calendar. */
export function fitCivil(local: string, zone: string): CivilFit | null {
  const naive = DateTime.fromFormat(local, "yyyy-MM-dd'T'HH:mm", { zone: 'utc' })
  if (!naive.isValid) return null
  const [first, second] = instantsOf(local, zone)
  if (first !== undefined && second !== undefined) return { fits: 'twice', earlier: first, later: second }
  if (first !== undefined) return { fits: 'once', at: first }
  // The hour is left out: read by the clock before the change it comes late, by the clock after it early.
  const wall = naive.toMillis()
  const clocks = IANAZone.create(zone)
  const [early, late] = [wall - DAY, wall + DAY].map((at) => wall - clocks.offset(at) * MINUTE).sort((a, b) => a - b)
  return early !== undefined && late !== undefined ? { fits: 'never', earlier: early, later: late } : null
}

/** The two halves that a form holds: "2027-03-13" and "19:40". */
export function civilParts(at: Instant, zone: string): { on: string; at: string } {
  const there = DateTime.fromMillis(at, { zone })
  return { on: there.toFormat('yyyy-MM-dd'), at: there.toFormat('HH:mm') }
}

export interface ClockChange {
  at: Instant
  minutes: number
  words: string
}

/** The first change of the zone's clocks in [from, to], to the minute, or null. */
export function clockChangeWithin(from: Instant, to: Instant, zone: string): ClockChange | null {
  const iana = IANAZone.create(zone)
  const before = iana.offset(from)
  if (iana.offset(to) === before) return null
  let low = from
  let high = to
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (iana.offset(middle) === before) low = middle
    else high = middle
  }
  const minutes = iana.offset(high) - before
  const way = minutes > 0 ? 'forward' : 'back'
  const words = `In ${zonePlace(zone)} the clocks go ${way} ${Math.abs(minutes)} minutes at ${showClock(high - MINUTE, zone)}, during the stream.`
  return { at: high, minutes, words }
}
