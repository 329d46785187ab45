import type { Instant } from './instant'

/** Where services get the time from. The house's own runs by the wall; tests and the demo story set theirs. */
export interface Clock {
  now(): Instant
  /** How many of its seconds pass in one of the wall's: a rehearsal's clock runs faster. One where it is not said. */
  pace?(): number
}
