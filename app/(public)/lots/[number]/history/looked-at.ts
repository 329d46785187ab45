import 'server-only'
import { type PricePath, pricePathOf, thinned } from '#app/_ui/price-path.rules.ts'
import { checkHistory, type Finding, signedHeads } from '#sale/history/check-history.rules'
import type { History } from '#sale/history/history.contract'
import { houseKeys, signatureHolds } from '../verify-receipt'

interface LookedAt {
  findings: Finding[]
  path: PricePath
}

/** More steps than this no eye tells apart in the picture's width. */
const MOST_STEPS = 200
const MOST_KEPT = 200
/** A check may take a twentieth of the time: while a lot is bid on, a long history is not checked anew for each bid. */
const REST = 20
const SIGNED = 'Every head carries the house’s signature.'

interface Kept extends LookedAt {
  /** The very one that was checked: the house reads another when there is a new head, or when it has found something altered. */
  history: History
  /** Until then this stands for later heads as well, by the monotonic clock. */
  restsUntil: number
}
const kept = new Map<string, Kept>()

/** Under way: however many read a page meanwhile, a history is checked once. */
const underWay = new Map<string, Promise<LookedAt>>()

/**
 * The check of a history, its signatures too, and its price path: worked out once for all who read it, and a little behind where it
 * is long and grows.
 */
export async function lookedAt(history: History, keys: readonly string[]): Promise<LookedAt> {
  const lot = history.origin
  const before = kept.get(lot)
  if (before && (before.history === history || performance.now() < before.restsUntil)) return before
  const looking = underWay.get(lot) ?? look(history, keys).finally(() => underWay.delete(lot))
  underWay.set(lot, looking)
  return looking
}

async function look(history: History, keys: readonly string[]): Promise<LookedAt> {
  const lot = history.origin
  const began = performance.now()
  const isSigned = await signatureHolds(signedHeads(history), await houseKeys(keys))
  const signed = { isSound: isSigned, words: isSigned ? SIGNED : 'A head carries a signature that is not the house’s.' }
  const looked = { findings: [...checkHistory(history), signed], path: thinned(pricePathOf(history), MOST_STEPS) }
  const ended = performance.now()
  kept.delete(lot)
  kept.set(lot, { ...looked, history, restsUntil: ended + REST * (ended - began) })
  const oldest = kept.keys().next().value
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest)
  return looked
}
