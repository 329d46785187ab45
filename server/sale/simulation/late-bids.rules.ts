import type { Instant } from '#kernel/instant'
import type { Chance } from '#kernel/seeded'
import { afterLateBid, LATE_WINDOW } from '../price/late-bid.rules'

/** An exponential wait of this mean. */
export const waitOf = (mean: number, chance: Chance): number => -Math.log(chance()) * mean

export interface LateBidding {
  closesAt: Instant
  /** Up to here bids have been played. */
  from: Instant
  extensions: number
}

/**
 * Plays late bids on one lot until it closes or `until` comes, by the rule of the house: each bid in the late window moves
 * the closing to a whole window after it. Bids arrive as a Poisson process, `lateBids` expected in one window, fewer after
 * each extension; having no memory, it may be broken off anywhere and taken up again.
 */
export function playLateBids(lot: LateBidding, lateBids: number, left: number, until: Instant, chance: Chance): void {
  let at = Math.max(lot.from, lot.closesAt - LATE_WINDOW)
  while (at < lot.closesAt && at < until) {
    at += waitOf(LATE_WINDOW / (lateBids * left ** lot.extensions), chance)
    if (at >= lot.closesAt || at >= until) break
    lot.closesAt = afterLateBid(lot.closesAt, at)
    lot.extensions++
  }
  lot.from = until
}
