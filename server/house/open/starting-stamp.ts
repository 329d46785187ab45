import type { Instant } from '#kernel/instant'
import { MINUTE, SECOND } from '#kernel/instant'
import { believeMachine, highestStamp } from '#runtime/queue/alive'
import type { Machine } from '#runtime/queue/machine'
import type { Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'

/** A clock that is set by the network may step back by as much as this without a word. */
const SMALL_STEP = 2 * SECOND

/** What is said of a clock that stands before what the house did last. */
export class ClockBehind extends Error {}

/**
 * The instant before which nothing may be stamped any more, since something has been already; null in a new house. Throws
 * ClockBehind, in words, where the machine's clock stands clearly before it and nobody has said that it is right.
 */
export function startingStamp(sight: Sight, machine: Machine, isClockRight: boolean, log: Log): Instant | null {
  const highest = highestStamp(sight)
  if (highest === null) return null
  const behind = highest - sight.now
  if (behind > SMALL_STEP) {
    if (!isClockRight) throw new ClockBehind(inWords(behind, highest, sight.now))
    log.warn({ behindMs: behind }, 'the clock stands before what was done last: until it has caught up, everything carries that instant')
    return highest
  }
  const tooMuch = believeMachine(sight, machine)
  if (tooMuch > 0)
    log.warn({ byMs: tooMuch }, 'the clock was set forward while the house was closed: that is no silence, and moves no closing')
  return highest
}

function inWords(behind: number, highest: Instant, now: Instant): string {
  const apart = behind < 2 * MINUTE ? `${Math.round(behind / SECOND)} seconds` : `${Math.round(behind / MINUTE)} minutes`
  return (
    `The clock of this machine is ${apart} behind what was done here last: it says ${utc(now)}, and something was recorded at ${utc(highest)} (UTC).\n` +
    'Nothing was changed. Set the clock and start again. If the clock is right, and it was wrong before, start with --clock-is-right: ' +
    `everything carries the instant ${utc(highest)} then until the clock has caught up, and what closes before that closes at once.`
  )
}

const utc = (at: Instant): string => new Date(at).toISOString().slice(0, 19).replace('T', ' ')
