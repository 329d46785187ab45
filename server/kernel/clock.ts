import type { Instant } from './instant'

/** Where services get the time from. The house's own runs by the wall; tests and the demo story set theirs. */
export interface Clock {
  now(): Instant
}
