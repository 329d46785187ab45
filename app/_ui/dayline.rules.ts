import type { Instant } from '#kernel/instant'
import { civilIn, sayTime } from '#kernel/wall-clock'

export interface DayMark {
  at: Instant
  /** "Lot 7", "Lot 7 · TERN-03". */
  label: string
  kind: 'past' | 'this' | 'coming'
  href?: string
}

export interface Day {
  opensAt: Instant
  closesAt: Instant
  now: Instant
  zone: string
  marks: readonly DayMark[]
}

export interface PlacedMark extends DayMark {
  /** Fraction of the line. */
  place: number
  time: string
}

export interface DayPlaces {
  marks: PlacedMark[]
  now: number
  /** Null when the stream has not begun or is over: then there is no dot. */
  dot: number | null
  from: string
  to: string
  /** An end's time is left out when the marked lot's time would run into it. */
  showFrom: boolean
  showTo: boolean
}

/** The least part of the line between the middle of the marked time and an end whose time is also shown. */
const ROOM = 0.2

/** The stream day as a line. A closing that was moved past the end stretches it, so that no mark falls off. */
export function placeDay({ opensAt, closesAt, now, zone, marks }: Day): DayPlaces {
  const start = Math.min(opensAt, ...marks.map(({ at }) => at))
  const end = Math.max(closesAt, start + 1, ...marks.map(({ at }) => at))
  const place = (at: Instant) => Math.min(1, Math.max(0, (at - start) / (end - start)))
  const time = (at: Instant) => sayTime(civilIn(at, zone))
  const placed = marks.map((mark) => ({ ...mark, place: place(mark.at), time: time(mark.at) })).sort((a, b) => a.at - b.at)
  const here = placed.find(({ kind }) => kind === 'this')?.place
  return {
    marks: placed,
    now: place(now),
    dot: now >= start && now <= end ? place(now) : null,
    from: time(start),
    to: time(end),
    showFrom: here === undefined || here >= ROOM,
    showTo: here === undefined || here <= 1 - ROOM,
  }
}

/** "The stream day, 13:00 to 01:00: 8 closings, 4 past. Lot 7 closes at 19:40." */
export function sayDay(places: DayPlaces): string {
  const count = places.marks.length
  const past = places.marks.filter(({ kind }) => kind === 'past').length
  const here = places.marks.find(({ kind }) => kind === 'this')
  const closings = `${count} ${count === 1 ? 'closing' : 'closings'}${past > 0 ? `, ${past} past` : ''}`
  return `The stream day, ${places.from} to ${places.to}: ${closings}.${here ? ` ${here.label} closes at ${here.time}.` : ''}`
}
