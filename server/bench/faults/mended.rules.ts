/** A block that was changed, or looked at and found good, and the fault is still there: so much of its suspicion is left. Common practice, no source. */
export const STILL_FAILS = 0.2

/** A change of the machine since the fault was opened, in the order of all that happened to it. */
export interface Mend {
  seq: number
  blocks: readonly string[]
}

/**
 * How often each block was mended in vain: it was changed, and a check has failed since. Without this the block that was
 * changed stays first for ever, and no other is ever looked at.
 */
export function mendedInVain(mends: readonly Mend[], failures: readonly number[]): Map<string, number> {
  const times = new Map<string, number>()
  for (const { seq, blocks } of mends) {
    if (!failures.some((failed) => failed > seq)) continue
    for (const block of new Set(blocks)) times.set(block, (times.get(block) ?? 0) + 1)
  }
  return times
}

/** What is believed of each block before any check is weighed, after so many mends in vain. */
export function afterMends(prior: ReadonlyMap<string, number>, times: ReadonlyMap<string, number>): Map<string, number> {
  const weighed = [...prior].map(([block, share]) => [block, share * STILL_FAILS ** (times.get(block) ?? 0)] as const)
  const total = weighed.reduce((sum, [, weight]) => sum + weight, 0)
  return new Map(weighed.map(([block, weight]) => [block, total > 0 ? weight / total : weight]))
}
