import { BY_ITSELF, type Catches, withoutSlips } from './catch.rules'
import { passesAll } from './passes.rules'

/** One explanation: these blocks are faulty and no other. Weights of a list of them sum to one. */
export interface Suspicion {
  blocks: readonly string[]
  weight: number
}

/** What a check said: evidence for and against every explanation. */
export interface Seen {
  check: string
  failed: boolean
}

/**
 * The chance that a check fails when all of these blocks are faulty: it fails if any of them makes it fail,
 * each by itself (1 − Π(1 − c), the "noisy or"), or if the reading slipped (its leak).
 */
export function chanceOfFailure(check: string, blocks: readonly string[], catches: Catches): number {
  const row = catches.get(check)
  return 1 - blocks.reduce((missed, block) => missed * (1 - (row?.get(block) ?? 0)), 1 - (row?.get(BY_ITSELF) ?? 0))
}

/** These are catches as people take readings, with slips. */
const isAsTaken = (catches: Catches): boolean => catches.values().next().value?.has(BY_ITSELF) === true

/** How likely everything that was seen is, if exactly these blocks are faulty. */
export function likelihood(blocks: readonly string[], seen: readonly Seen[], catches: Catches): number {
  const failures = seen.reduce((product, { check, failed }) => product * (failed ? chanceOfFailure(check, blocks, catches) : 1), 1)
  const misses = seen.flatMap(({ check, failed }) => (failed ? [] : 1 - chanceOfFailure(check, blocks, catches)))
  return failures * (isAsTaken(catches) ? passesAll(misses) : misses.reduce((product, missed) => product * missed, 1))
}

/**
 * Bayes' rule over explanations: prior × likelihood, scaled to sum to one. Null when nothing of what
 * is tried could have given what was seen.
 */
export function update(prior: readonly Suspicion[], seen: readonly Seen[], catches: Catches): Suspicion[] | null {
  const weighed = prior.map(({ blocks, weight }) => ({ blocks, weight: weight * likelihood(blocks, seen, catches) }))
  const total = weighed.reduce((sum, { weight }) => sum + weight, 0)
  return total > 0 ? weighed.map(({ blocks, weight }) => ({ blocks, weight: weight / total })) : null
}

/** How likely what was seen is, all explanations taken together. */
const evidence = (prior: readonly Suspicion[], seen: readonly Seen[], catches: Catches) =>
  prior.reduce((sum, { blocks, weight }) => sum + weight * likelihood(blocks, seen, catches), 0)

/** Odds of two faults at once against one, before anything was seen. Common practice, no source. */
export const ODDS_OF_TWO = 1 / 20

/** Blocks that no failed check can see are suspected only if a reading slipped: together they keep so much. Common practice, no source. */
export const UNSEEN = 0.02

/** Where no block alone explains what failed, so much is kept for a reading that slipped, and the rest is for pairs. Common practice, no source. */
export const KEPT_FOR_SLIPS = 0.2

export interface Posterior {
  suspicions: Suspicion[]
  /** Per block, the chance that it is (one of) the faulty. */
  shares: Map<string, number>
  /**
   * `one`: a single block explains what was seen. `two likelier`: one could, two explain it better. `two`: no single
   * block explains it, pairs do. `more`: no two blocks do either: three faults, or a reading that was wrong.
   */
  faults: 'one' | 'two likelier' | 'two' | 'more'
}

/** Who is suspected after all that was seen; one fault is assumed for as long as that can be. */
export function suspect(prior: ReadonlyMap<string, number>, seen: readonly Seen[], catches: Catches): Posterior {
  const posterior = suspectAll(prior, seen, catches)
  const failing = seen.filter((one) => one.failed)
  if (!isAsTaken(catches) || failing.length === 0) return posterior
  const exact = withoutSlips(catches)
  const isSeen = ({ blocks }: Suspicion) => failing.some(({ check }) => chanceOfFailure(check, blocks, exact) > 0)
  return { ...posterior, ...withShares(seenFirst(posterior.suspicions, isSeen)) }
}

/** However much has passed of what a failed check looks at, what it does not look at comes behind it. */
function seenFirst(suspicions: readonly Suspicion[], isSeen: (one: Suspicion) => boolean): Suspicion[] {
  const total = (list: readonly Suspicion[]) => list.reduce((sum, { weight }) => sum + weight, 0)
  const [inside, outside] = [total(suspicions.filter(isSeen)), total(suspicions.filter((one) => !isSeen(one)))]
  if (inside === 0 || outside <= UNSEEN * (inside + outside)) return [...suspicions]
  return suspicions.map((one) => ({
    ...one,
    weight: isSeen(one) ? ((1 - UNSEEN) * one.weight) / inside : (UNSEEN * one.weight) / outside,
  }))
}

function suspectAll(prior: ReadonlyMap<string, number>, seen: readonly Seen[], catches: Catches): Posterior {
  // What blocks alone can explain, if no reading slipped.
  const exact = withoutSlips(catches)
  const hasSlips = isAsTaken(catches)
  const singles = scaled([...prior].map(([block, weight]) => ({ blocks: [block], weight })))
  const pairs = pairsOf(singles)
  const one = evidence(singles, seen, catches)
  const two = ODDS_OF_TWO * evidence(pairs, seen, catches)
  const both = [...singles, ...pairs.map(({ blocks, weight }) => ({ blocks, weight: weight * ODDS_OF_TWO }))]
  const isOne = evidence(singles, seen, exact) > 0
  if (!isOne && evidence(pairs, seen, exact) === 0) {
    const left = one + two > 0 ? update(both, seen, catches) : null
    return { ...withShares(left ?? (pairs.length > 0 ? failingOnly(singles, seen, catches) : singles)), faults: 'more' }
  }
  if (isOne && two <= one) return { ...withShares(update(singles, seen, catches) ?? singles), faults: 'one' }
  const mixed = update(both, seen, catches) ?? both
  if (isOne) return { ...withShares(mixed), faults: 'two likelier' }
  return { ...withShares(hasSlips ? withPairsFirst(mixed, update(pairs, seen, exact) ?? pairs) : mixed), faults: 'two' }
}

/** Pairs as they explain what failed without a slip, and a part of everything as a slip would explain it. */
function withPairsFirst(mixed: readonly Suspicion[], pairs: readonly Suspicion[]): Suspicion[] {
  const weights = new Map(pairs.map(({ blocks, weight }) => [blocks.join(), weight]))
  return mixed.map(({ blocks, weight }) => ({
    blocks,
    weight: KEPT_FOR_SLIPS * weight + (1 - KEPT_FOR_SLIPS) * (weights.get(blocks.join()) ?? 0),
  }))
}

/** When nothing fits together, every block that could have failed any of the failed checks stays suspect. */
function failingOnly(singles: Suspicion[], seen: readonly Seen[], catches: Catches): Suspicion[] {
  const failed = seen.filter((one) => one.failed)
  const could = singles.map(({ blocks, weight }) => ({
    blocks,
    weight: weight * failed.reduce((sum, { check }) => sum + chanceOfFailure(check, blocks, catches), 0),
  }))
  return could.some(({ weight }) => weight > 0) ? scaled(could) : singles
}

function pairsOf(singles: readonly Suspicion[]): Suspicion[] {
  const pairs = singles.flatMap((a, index) =>
    singles.slice(index + 1).map((b) => ({ blocks: [...a.blocks, ...b.blocks], weight: a.weight * b.weight })),
  )
  return pairs.length > 0 ? scaled(pairs) : []
}

export function scaled(suspicions: readonly Suspicion[]): Suspicion[] {
  const total = suspicions.reduce((sum, { weight }) => sum + weight, 0)
  return suspicions.map(({ blocks, weight }) => ({ blocks, weight: total > 0 ? weight / total : 1 / suspicions.length }))
}

function withShares(suspicions: Suspicion[]): Pick<Posterior, 'suspicions' | 'shares'> {
  const shares = new Map<string, number>()
  for (const { blocks, weight } of suspicions) for (const block of blocks) shares.set(block, (shares.get(block) ?? 0) + weight)
  return { suspicions, shares }
}
