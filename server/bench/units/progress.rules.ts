/** The six terminals of the strip, in order. */
export const STATIONS = ['given', 'built', 'tested', 'listed', 'sold', 'sent'] as const
export type Station = (typeof STATIONS)[number]

export interface ProgressFacts {
  /** Positions of the design, those that hold something, and those whose piece lies ready in hand. */
  positions: number
  fitted: number
  inHand: number
  hasValidCertificate: boolean
  lot: { isPublic: boolean; isSold: boolean; isSent: boolean } | null
}

/**
 * How many terminals the wire has reached, 0 to 6; derived, never stored. *given*: every piece in
 * hand or fitted; *built*: all fitted; *tested*: a valid certificate; *listed*: its lot is public;
 * *sold*: the hammer fell; *sent*. A sale is not unmade by what is found later; everything before it is.
 */
export function reachedBy(facts: ProgressFacts): number {
  const { lot } = facts
  if (lot?.isSold) return lot.isSent ? 6 : 5
  if (facts.positions === 0 || facts.fitted + facts.inHand < facts.positions) return 0
  if (facts.fitted < facts.positions) return 1
  if (!facts.hasValidCertificate) return 2
  return lot?.isPublic ? 4 : 3
}
