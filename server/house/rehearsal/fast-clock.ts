import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'

export interface FastClock extends Clock {
  pace(): number
  /** From now on it runs so many times faster than the wall, or stands at 0; the time it shows does not jump. */
  setPace(pace: number): void
  /** Whoever plays the day has come this far: it may go on. */
  step(): void
}

/**
 * A clock that begins where it is told and runs faster than the wall. It waits for whoever plays the day: without a step it
 * goes on for `mostAheadMs` of the wall and stands then, so that a machine that is slow loses no minute of the day.
 */
export function openFastClock(
  begins: Instant,
  startPace: number,
  wall: () => number = () => performance.now(),
  mostAheadMs: number = Number.POSITIVE_INFINITY,
): FastClock {
  let anchor = begins
  let since = wall()
  let pace = startPace
  const now = () => Math.floor(anchor + Math.min(wall() - since, mostAheadMs) * pace)
  const step = () => {
    anchor = now()
    since = wall()
  }
  return {
    now,
    pace: () => pace,
    setPace(faster) {
      step()
      pace = faster
    },
    step,
  }
}
