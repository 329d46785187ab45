import { type Instant, MINUTE, SECOND } from '#kernel/instant'

/** So many bids of one paddle on one lot are taken within a minute: each is an entry that everybody reads for ever. One every five seconds is common practice for a hand. */
export const MOST_IN_A_MINUTE = 12

/** Why a bid at `now` comes too soon, in words, when the twelfth counted back arrived at `before`; null when it may come. */
export function whyTooOften(before: Instant | null, now: Instant): string | null {
  if (before === null || now - before >= MINUTE) return null
  const seconds = Math.ceil((before + MINUTE - now) / SECOND)
  return `That is more than ${MOST_IN_A_MINUTE} bids of yours on this lot within a minute. Send it again in ${seconds} s. A single bid with the most you would pay does the same.`
}
