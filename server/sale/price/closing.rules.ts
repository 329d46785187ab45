import { type Instant, MINUTE } from '#kernel/instant'
import { SHORT_SILENCE } from '#kernel/silence'
import { isLate, type LateBid } from './late-bid.rules'

/** What a lot's history says where the programme moved its closing; the programme itself says why. */
export const PROGRAMME_CHANGED = 'The programme was changed.'

/** A hold under this long costs no more than itself; after a longer one the earliest closing gets this much room. */
export const SHORT_HOLD = 2 * MINUTE
export const ROOM_AFTER_HOLD = 15 * MINUTE

/** The closing beats any stored state and any timer: at -1 ms a bid is in time, at 0 it is not. */
export const isPast = (closesAt: Instant, now: Instant): boolean => now >= closesAt

/**
 * How far closings move when the clocks go on: max(time held, 15 min - what remained of the earliest),
 * or the time held alone if that was under 2 min. One figure for all, so that the gaps are kept.
 */
export function shiftAfterHold(heldSince: Instant, now: Instant, earliestClosing: Instant | null): number {
  const held = now - heldSince
  if (held < SHORT_HOLD || earliestClosing === null) return held
  return Math.max(held, ROOM_AFTER_HOLD - (earliestClosing - heldSince))
}

export interface Outage {
  from: Instant
  to: Instant
  shiftMs: number
}

/** The closing of an open lot, and what a late bid is on it. */
export interface OpenClosing {
  closesAt: Instant
  lateBid?: LateBid | undefined
}

/**
 * The process fell silent at `lastAlive` and is back at `now`: do closings move? Only if it was longer than 5 s and
 * touched the time in which a bid on an open lot is a late one; otherwise each lot closed, or will close, at its instant.
 */
export function outageOf(lastAlive: Instant, now: Instant, open: readonly OpenClosing[]): Outage | null {
  if (now - lastAlive <= SHORT_SILENCE) return null
  const running = open.filter(({ closesAt }) => closesAt > lastAlive)
  if (!running.some(({ closesAt, lateBid }) => isLate(closesAt, now, lateBid))) return null
  return { from: lastAlive, to: now, shiftMs: shiftAfterHold(lastAlive, now, Math.min(...running.map(({ closesAt }) => closesAt))) }
}

/** After a void the others get time to answer: under 15 min to go, the closing is 15 min from now. */
export const afterVoid = (closesAt: Instant, now: Instant): Instant => Math.max(closesAt, now + ROOM_AFTER_HOLD)
