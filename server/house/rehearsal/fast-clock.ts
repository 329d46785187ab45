import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'

export interface FastClock extends Clock {
  pace(): number
  /** From now on it runs so many times faster than the wall, or stands at 0; the time it shows does not jump. */
  setPace(pace: number): void
  /** Whoever plays the day has come this far: it may go on. */
  step(): void
}

/** The shortest cue of the host's screen stands for a minute: with more of the day between two steps one would be passed over. */
const MOST_OF_DAY_MS = 45_000

/**
 * A clock that begins where it is told and runs faster than the wall. It waits for whoever plays the day: without a step it
 * goes on for `mostAheadMs` of the wall, or so much of the day that nothing in it is passed over, and stands then: a machine
 * that is slow loses no minute of the day.
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
  const isWaiting = mostAheadMs !== Number.POSITIVE_INFINITY
  const now = () => {
    const gone = Math.min(wall() - since, mostAheadMs) * pace
    return Math.floor(anchor + (isWaiting ? Math.min(gone, MOST_OF_DAY_MS) : gone))
  }
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
