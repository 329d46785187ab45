import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'

/** What the house said of the reader on this lot, and the lot as it was then. */
export interface KnownSide {
  side: MySide
  asOf: LotFrame
  /** Aliases that led while the house said that the reader had none: somebody else's. */
  others: readonly string[]
}

/** What is known once the house has said `side` of the lot as it is in `asOf`. */
export function learnSide(known: KnownSide | null, side: MySide, asOf: LotFrame): KnownSide {
  const { leaderAlias } = asOf
  const others = known?.others ?? []
  const isOther = side.alias === null && leaderAlias !== null && !others.includes(leaderAlias)
  return { side, asOf, others: isOther ? [...others, leaderAlias] : others }
}

/**
 * Whether a frame that came since may have made it untrue: the same person bids on another page or phone as well. Whoever leads
 * may have raised, where a bid came in; a leader who was not seen before may be the reader; a void is told by the frame.
 */
export function isSidePast({ side, asOf, others }: KnownSide, frame: LotFrame): boolean {
  if (side.alias === null) return side.barred === null && frame.leaderAlias !== null && !others.includes(frame.leaderAlias)
  if (!side.isVoided && frame.voidedAliases.includes(side.alias)) return true
  return frame.leaderAlias === side.alias && frame.bids > asOf.bids
}

/** What of it may be shown beside this frame: never a maximum that the price of its own leader has passed. */
export function sideBeside({ side }: KnownSide, frame: LotFrame): MySide {
  const isPassed =
    side.maximumMinor !== null &&
    frame.standingMinor !== null &&
    frame.leaderAlias === side.alias &&
    frame.standingMinor > side.maximumMinor
  return isPassed ? { ...side, maximumMinor: null } : side
}
