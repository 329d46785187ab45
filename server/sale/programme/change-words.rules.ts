import { type Instant, MINUTE, SECOND } from '#kernel/instant'
import { type Currency, showMoney } from '#kernel/money'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import type { DayChange } from './changes.contract'
import type { Programme } from './programme.contract'

/** A change in one sentence, by the stream's clock, without its reason. */
export function sayChange(change: DayChange, { zone, currency }: { zone: string; currency: Currency }): string {
  const { kind, title, from, to, shiftMs, hammerMinor } = change
  const when = (at: Instant) => `${showDay(at, zone)}, ${showClock(at, zone)}`
  const there = `(${zonePlace(zone)})`
  const moved =
    from !== null && to !== null
      ? `from ${when(from)} to ${showDay(from, zone) === showDay(to, zone) ? showClock(to, zone) : when(to)} ${there}`
      : ''
  const inSeconds = laterWithinMinute(from, to, zone)
  switch (kind) {
    case 'announced':
      return 'The programme was announced.'
    case 'added':
      return `${title} was added to the programme${to === null ? '' : `: ${when(to)} ${there}`}.`
    case 'moved':
      return `${title} moves ${inSeconds ?? moved}.`
    case 'ends':
      if (from === null || to === null) return `${title} ends at another time.`
      return `${title} ends ${to > from ? 'later' : 'sooner'}: at ${showClock(to, zone)} instead of ${showClock(from, zone)} ${there}.`
    case 'extended':
      return `${title} closes ${inSeconds ?? `later: ${moved}`}.`
    case 'removed':
      return `${title} will not take place${from === null ? '' : `; it was planned for ${when(from)} ${there}`}.`
    case 'held':
      return change.lot === null ? 'All clocks are stopped.' : `The clock of ${title} is stopped.`
    case 'resumed':
      if (change.lot !== null)
        return `The clock of ${title} is running again; it closes ${isSameTime(from, to) ? 'at its time' : (inSeconds ?? `later: ${moved}`)}.`
      return `All clocks are running again${shiftMs ? `; closings come later by up to ${sayShift(shiftMs)}` : ''}.`
    case 'withdrawn':
      return `${title} was withdrawn; nobody wins it.`
    case 'sold':
      return `${title} was sold${hammerMinor === null ? '' : ` for ${showMoney(hammerMinor, currency)}`}.`
    case 'unsold':
      return `${title} was not sold.`
    case 'fell through':
      return `The sale of ${title} fell through.`
    case 'stands':
      return `${title} is sold${hammerMinor === null ? '' : ` for ${showMoney(hammerMinor, currency)}`} in the end.`
  }
}

/** A clock that had time enough goes on and closes when it was to. */
export const isSameTime = (from: Instant | null, to: Instant | null): boolean =>
  from !== null && to !== null && Math.round((to - from) / SECOND) === 0

/** Where the clock shows the same minute before and after, by how much it moved: "30 s later"; null elsewhere. */
export function laterWithinMinute(from: Instant | null, to: Instant | null, zone: string): string | null {
  if (from === null || to === null || to - from >= MINUTE || showClock(from, zone) !== showClock(to, zone)) return null
  return `${sayShift(to - from)} later`
}

export function sayShift(milliseconds: number): string {
  const seconds = Math.round(milliseconds / SECOND)
  if (seconds < 120) return `${seconds} s`
  return seconds % 60 === 0 ? `${seconds / 60} min` : `${Math.floor(seconds / 60)} min ${seconds % 60} s`
}

/** What differs whenever something of the announced day changed that is told with its reason, the end of the stream among it. */
export const markOfDay = ({ closesAt, items }: Pick<Programme, 'closesAt' | 'items'>): string =>
  [closesAt, ...items.map(({ uid, sequence, isHeld }) => `${uid} ${sequence} ${isHeld}`)].join()
