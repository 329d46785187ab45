import type { Instant } from '#kernel/instant'
import type { Piece, Standing, Vital } from '#runtime/vitals/vital'

/** How one of them stands, with its last hours and whether a letter was written about it. */
export interface VitalView extends Omit<Vital, 'help' | 'whenNotReady' | 'also'> {
  pieces: readonly Piece[]
  letter: LetterState
}

/** Of a letter about something that is bad: none is due, one will be written, one was, or one waits in the outbox because mail does not go. */
export type LetterState = 'none' | 'to be written' | 'written' | 'waits'

export interface VitalsView {
  at: Instant
  /** The worst of all. */
  standing: Standing
  vitals: readonly VitalView[]
}
