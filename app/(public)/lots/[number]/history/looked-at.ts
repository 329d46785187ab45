import 'server-only'
import { type PricePath, pricePathOf, thinned } from '#app/_ui/price-path.rules.ts'
import { checkHistory, type Finding } from '#sale/history/check-history.rules'
import type { History } from '#sale/history/history.contract'

interface LookedAt {
  findings: Finding[]
  path: PricePath
}

const MOST_KEPT = 100
/** More steps than this no eye tells apart in the picture's width. */
const MOST_STEPS = 200
/** By the last head, which names every entry before it, and what the lot is said to be. */
const kept = new Map<string, LookedAt>()

/** The check of a history and its price path: worked out once for each head, however many read it. */
export function lookedAt(history: History): LookedAt {
  const head = `${history.state} ${history.heads.at(-1)?.checkpoint}`
  const before = kept.get(head)
  if (before) return before
  const looked = { findings: checkHistory(history), path: thinned(pricePathOf(history), MOST_STEPS) }
  kept.set(head, looked)
  const oldest = kept.keys().next().value
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest)
  return looked
}
