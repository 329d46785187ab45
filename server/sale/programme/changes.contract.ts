import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'

/** `ends`: a guest or a break keeps its beginning, and ends at another time; from and to are its ends. */
export type DayChangeKind =
  | 'announced'
  | 'added'
  | 'moved'
  | 'ends'
  | 'extended'
  | 'removed'
  | 'held'
  | 'resumed'
  | 'withdrawn'
  | 'sold'
  | 'unsold'
  | 'fell through'
  | 'stands'

/** With these a lot has ended. */
export const ENDS: readonly DayChangeKind[] = ['sold', 'unsold', 'withdrawn']

/** What changed in the announced programme, when, and why; for everybody. */
export interface DayChange {
  /** Stays for life: what a feed knows it by. */
  id: number
  at: Instant
  kind: DayChangeKind
  /** "Lot 7: Saltmarsh receiver", a guest's name, or "The programme". */
  title: string
  lot: number | null
  from: Instant | null
  to: Instant | null
  /** By how much closings moved at most, after a hold of all clocks. */
  shiftMs: number | null
  /** What the hammer fell at, or what stands of it since. */
  hammerMinor: Minor | null
  why: string
}

/** An announced guest or break that was taken out: calendars are told that it does not take place. */
export interface RemovedItem {
  uid: string
  title: string
  startsAt: Instant
  endsAt: Instant
  sequence: number
  at: Instant
}

export interface DayChanges {
  name: string
  zone: string
  currency: Currency
  /** The newest first. */
  changes: DayChange[]
}
