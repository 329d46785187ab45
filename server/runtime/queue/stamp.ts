import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'
import { type Machine, openMachine } from './machine'

/** Stamps that never run backwards, whatever the clock below does, and never before `highest`, the last one of an earlier run. */
export function stampsFrom(clock: Clock, highest: Instant = Number.NEGATIVE_INFINITY): () => Instant {
  let last = highest
  return () => {
    last = Math.max(last, clock.now())
    return last
  }
}

const SLEW_EVERY = 600_000

/**
 * The wall's time at start, carried on by what goes by on the machine: a wall set back or forward while
 * the house is open moves no closing. Every ten minutes the anchor follows the wall by at most a
 * twentieth of what passed, so that a slow drift is followed and a jump is not.
 */
export function wallClock(machine: Machine = openMachine(), wall: () => number = Date.now): Clock {
  let anchor = wall()
  let since = machine.passed()
  return {
    now: () => {
      const passed = machine.passed() - since
      if (passed > SLEW_EVERY) {
        const drift = wall() - (anchor + passed)
        const most = passed / 20
        anchor = anchor + passed + Math.max(-most, Math.min(most, drift))
        since = machine.passed()
        return Math.floor(anchor)
      }
      return Math.floor(anchor + passed)
    },
  }
}
