import { DAY, HOUR, type Instant, MINUTE, SECOND } from '#kernel/instant'
import { clockLeft } from './countdown.rules'

/** How late somebody's picture of the stream is, as measured on their device. The house never hears of it. */
export interface PictureDelay {
  delayMs: number
  /** Half the spread of the taps. */
  doubtMs: number
  taps: number
  /** By the house's clock. */
  measuredAt: Instant
}

/** Longer than any stream runs behind; beyond it the time was mistyped. Common practice, no source. */
const LONGEST = 10 * MINUTE
/** A picture cannot be early; this much is a hasty finger. */
const EARLY = 2 * SECOND
/** After this a measurement is said to be old, since streams drift and a pause changes it; later it is forgotten. */
export const OLD_AFTER = 30 * MINUTE
const FORGOTTEN_AFTER = 4 * HOUR
/** Taps further apart than this were not of the same picture. */
const MOST_SPREAD = 4 * SECOND
const MOST_TAPS = 7

/** Seconds of the day from "20:14:30", "20.14.30", "201430", full-width figures too; null for anything else. */
export function readShown(text: string): number | null {
  const found = /^(\d{1,2})[:.\s]?(\d\d)[:.\s]?(\d\d)(?:[.,]\d)?$/.exec(text.normalize('NFKC').trim())
  if (!found) return null
  const [hours = 0, minutes = 0, seconds = 0] = found.slice(1).map(Number)
  return hours < 24 && minutes < 60 && seconds < 60 ? hours * 3600 + minutes * 60 + seconds : null
}

/** Seconds of the day on the wall of a zone. */
export function wallSeconds(at: Instant, zone: string): number {
  const parts: Record<string, number> = {}
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hourCycle: 'h23',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  })
  for (const { type, value } of format.formatToParts(at)) parts[type] = Number(value)
  return (parts.hour ?? 0) * 3600 + (parts.minute ?? 0) * 60 + (parts.second ?? 0)
}

/** "20:14:30" of a zone, as the clock in the picture writes it. */
export function showWall(at: Instant, zone: string): string {
  const seconds = wallSeconds(at, zone)
  const two = (n: number) => String(n).padStart(2, '0')
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor((seconds % 3600) / 60))}:${two(seconds % 60)}`
}

export type Measured = { delayMs: number } | { words: string }

/**
 * How late a picture is that shows `shown` at `tapped`, an instant by the house's clock. The one second that fits is looked
 * for by the zone's own clock, so a night on which the clocks change is no trap; the finger's own reaction is in it.
 */
export function delayOf(shown: string, tapped: Instant, zone: string): Measured {
  const seconds = readShown(shown)
  if (seconds === null) return { words: 'Write the time as the clock in the picture shows it, such as 20:14:30.' }
  const into = tapped % SECOND
  for (let delay = -EARLY; delay <= LONGEST; delay += SECOND) {
    const began = tapped - into - delay
    if (wallSeconds(began, zone) === seconds) return { delayMs: Math.max(0, tapped - began) }
  }
  const ahead = (seconds * SECOND - wallSeconds(tapped, zone) * SECOND + DAY) % DAY
  return {
    words:
      ahead < HOUR
        ? `The picture cannot show ${shown} yet: it is ${showWall(tapped, zone)}. Tap when it does.`
        : `That would be more than ten minutes ago: it is ${showWall(tapped, zone)}. Look at the clock in the picture once more.`,
  }
}

/** What several taps say together: their median. A tap far from the last begins anew, since the picture was paused or moved on. */
export function withTap(taps: readonly number[], delayMs: number): number[] {
  const same = taps.every((one) => Math.abs(one - delayMs) <= MOST_SPREAD)
  return [...(same ? taps : []), delayMs].slice(-MOST_TAPS)
}

export function summed(taps: readonly number[], measuredAt: Instant): PictureDelay | null {
  const sorted = [...taps].sort((a, b) => a - b)
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)], sorted[Math.ceil((sorted.length - 1) / 2)]]
  if (low === undefined || high === undefined) return null
  return { delayMs: (low + high) / 2, doubtMs: ((sorted.at(-1) ?? 0) - (sorted[0] ?? 0)) / 2, taps: sorted.length, measuredAt }
}

/** The next time to tap at: a full ten seconds that the picture has still to show, with time to get ready. */
export function nextMark(now: Instant, delayMs: number): Instant {
  const step = 10 * SECOND
  return Math.ceil((now - delayMs + 3 * SECOND) / step) * step
}

/** What was kept on the device; null when it is none, or too old to say anything. */
export function readKept(text: string | null, now: Instant): PictureDelay | null {
  let kept: unknown
  try {
    kept = JSON.parse(text ?? 'null')
  } catch {
    return null
  }
  if (typeof kept !== 'object' || kept === null) return null
  const { delayMs, doubtMs, taps, measuredAt } = kept as Record<string, unknown>
  const isWhole = [delayMs, doubtMs, taps, measuredAt].every((one) => typeof one === 'number' && Number.isFinite(one))
  if (!isWhole || Number(delayMs) < 0 || Number(delayMs) > LONGEST) return null
  if (now - Number(measuredAt) > FORGOTTEN_AFTER || Number(measuredAt) > now + MINUTE) return null
  return { delayMs: Number(delayMs), doubtMs: Number(doubtMs), taps: Number(taps), measuredAt: Number(measuredAt) }
}

/** Rounded up: it is better to think that less is left. */
const seconds = (milliseconds: number): number => Math.ceil(milliseconds / SECOND)

/** "Your picture is 23 s late: when it says one minute, 37 s are left." */
export function sayPicture({ delayMs }: PictureDelay): string {
  const late = seconds(delayMs)
  if (late <= 1) return 'Your picture is a second late at most.'
  const minutes = Math.floor(late / 60) + 1
  const left = minutes * 60 - late
  const says = minutes === 1 ? 'one minute' : `${minutes} minutes`
  return `Your picture is ${late} s late: when it says ${says}, ${left === 1 ? 'one second is' : `${left} s are`} left.`
}

/** How much that is worth: from how many taps, how far they lie apart, and how old it is. */
export function sayWorth({ taps, doubtMs, measuredAt }: PictureDelay, now: Instant): string {
  const from = taps === 1 ? 'one tap' : `${taps} taps that agree within ${Math.max(1, Math.ceil((2 * doubtMs) / SECOND))} s`
  const age = Math.max(0, Math.floor((now - measuredAt) / MINUTE))
  const when = age === 0 ? 'just now' : age === 1 ? 'a minute ago' : `${age} min ago`
  return `Measured ${when}, from ${from}.${now - measuredAt > OLD_AFTER ? ' That is long ago: measure it once more.' : ''}`
}

/** What the picture still shows as left, for beside the true countdown; null where it is nothing to speak of. */
export function pictureLeft(leftMs: number, { delayMs }: PictureDelay): string | null {
  if (seconds(delayMs) <= 1 || leftMs > 10 * MINUTE || leftMs + delayMs <= 0) return null
  return `your picture still shows ${clockLeft(leftMs + delayMs)}`
}
