import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'

export interface FastClock extends Clock {
  pace(): number
  /** From now on it runs so many times faster than the wall; the time it shows does not jump. */
  setPace(pace: number): void
}

/** A clock that begins where it is told and runs faster than the wall. */
export function openFastClock(begins: Instant, startPace: number, wall: () => number = () => performance.now()): FastClock {
  let anchor = begins
  let since = wall()
  let pace = startPace
  const now = () => Math.floor(anchor + (wall() - since) * pace)
  return {
    now,
    pace: () => pace,
    setPace(faster) {
      anchor = now()
      since = wall()
      pace = faster
    },
  }
}
