import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'

/** Stamps that never run backwards, whatever the clock below does. */
export function stampsFrom(clock: Clock): () => Instant {
  let last = Number.NEGATIVE_INFINITY
  return () => {
    last = Math.max(last, clock.now())
    return last
  }
}

/**
 * The wall's time at start, carried on by the monotonic clock: a wall set back or forward while
 * the house is open moves no closing. Every ten minutes the anchor follows the wall by at most a
 * twentieth of what passed, so that a slow drift is followed and a jump is not.
 */
export function wallClock(): Clock {
  let anchor = Date.now()
  let since = performance.now()
  const SLEW_EVERY = 600_000
  return {
    now: () => {
      const passed = performance.now() - since
      if (passed > SLEW_EVERY) {
        const drift = Date.now() - (anchor + passed)
        const most = passed / 20
        anchor = anchor + passed + Math.max(-most, Math.min(most, drift))
        since = performance.now()
        return Math.floor(anchor)
      }
      return Math.floor(anchor + passed)
    },
  }
}
