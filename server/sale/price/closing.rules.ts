import { type Instant, MINUTE } from '#kernel/instant'
import { SHORT_SILENCE } from '#kernel/silence'
import { isLate, type LateBid } from './late-bid.rules'

/** What a lot's history says where the programme moved its closing; the programme itself says why. */
export const PROGRAMME_CHANGED = 'The programme was changed.'

/** A shorter hold costs no more than itself; after a longer one every closing that stood gets this much room. */
export const SHORT_HOLD = 2 * MINUTE
export const ROOM_AFTER_HOLD = 15 * MINUTE

/** The closing beats any stored state and any timer: at -1 ms a bid is in time, at 0 it is not. */
export const isPast = (closesAt: Instant, now: Instant): boolean => now >= closesAt

/**
 * What is left of the time until a closing: a clock that is held shows what was left when it was stopped. Every screen,
 * paper and voice goes by this.
 */
export const leftUntil = (closesAt: Instant, now: Instant, heldSince: Instant | null = null): number => closesAt - (heldSince ?? now)

/** As much as was left when the clocks stopped, or a quarter of an hour: with less no clock goes on. */
const leastAfterStanding = (closesAt: Instant, since: Instant): number => Math.min(closesAt - since, ROOM_AFTER_HOLD)

/** Whether a closing that stood from `since` to `now` may go on with `movedTo`: never earlier, and with enough time left. */
export const leavesEnough = (closesAt: Instant, since: Instant, now: Instant, movedTo: Instant): boolean =>
  movedTo >= closesAt && movedTo - now >= leastAfterStanding(closesAt, since)

/** Clocks that stood no longer than this go on with what was left. */
export const isShortHold = (since: Instant, now: Instant): boolean => now - since < SHORT_HOLD

/**
 * Where a closing stands when its clock goes on at `now` after it stood from `since`. The notice counts from going on:
 * fifteen minutes, or after a hold of under two what was left, where that is less. What has more time than that stays.
 */
export function afterStanding(closesAt: Instant, since: Instant, now: Instant): Instant {
  const notice = isShortHold(since, now) ? leastAfterStanding(closesAt, since) : ROOM_AFTER_HOLD
  return Math.max(closesAt, now + notice)
}

export interface Outage {
  from: Instant
  to: Instant
}

/** The closing of an open lot, and what a late bid is on it. */
export interface OpenClosing {
  closesAt: Instant
  lateBid?: LateBid | undefined
}

/**
 * The process fell silent at `silentSince` and is back at `now`: do closings move? Only if it was longer than 5 s and
 * touched the time in which a bid on an open lot is a late one; otherwise each lot closed, or will close, at its instant.
 */
export function outageOf(silentSince: Instant, now: Instant, open: readonly OpenClosing[]): Outage | null {
  if (now - silentSince <= SHORT_SILENCE) return null
  const running = open.filter(({ closesAt }) => closesAt > silentSince)
  if (!running.some(({ closesAt, lateBid }) => isLate(closesAt, now, lateBid))) return null
  return { from: silentSince, to: now }
}

/** After a void the others get time to answer: under 15 min to go, the closing is 15 min from now. */
export const afterVoid = (closesAt: Instant, now: Instant): Instant => Math.max(closesAt, now + ROOM_AFTER_HOLD)
