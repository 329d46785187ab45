import type { Instant } from '#kernel/instant'
import type { Chance } from '#kernel/seeded'
import { afterLateBid, type LateBid, lateBidOf } from '../price/late-bid.rules'

/** An exponential wait of this mean. */
export const waitOf = (mean: number, chance: Chance): number => -Math.log(chance()) * mean

export interface LateBidding {
  closesAt: Instant
  /** Up to here bids have been played. */
  from: Instant
  extensions: number
  /** The lot's own; the usual one where it has none. */
  lateBid?: LateBid
}

/**
 * Plays late bids on one lot until it closes or `until` comes, by the rule of the lot: each bid in its late window moves
 * the closing to what it adds after itself. Bids arrive as a Poisson process, `lateBids` expected in one window, fewer after
 * each extension; having no memory, it may be broken off anywhere and taken up again.
 */
export function playLateBids(lot: LateBidding, lateBids: number, left: number, until: Instant, chance: Chance): void {
  const rule = lateBidOf(lot)
  let at = Math.max(lot.from, lot.closesAt - rule.windowMs)
  while (at < lot.closesAt && at < until) {
    at += waitOf(rule.windowMs / (lateBids * left ** lot.extensions), chance)
    if (at >= lot.closesAt || at >= until) break
    lot.closesAt = afterLateBid(lot.closesAt, at, rule)
    lot.extensions++
    // What it added may be longer than the window: until that begins again, a bid moves nothing.
    at = Math.max(at, lot.closesAt - rule.windowMs)
  }
  lot.from = until
}
