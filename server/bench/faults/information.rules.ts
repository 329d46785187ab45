import type { Catches } from './catch.rules'
import { chanceOfFailure, type Suspicion } from './suspects.rules'

/** Entropy of a yes or no of this chance, in bits. */
export function bitOf(chance: number): number {
  if (chance <= 0 || chance >= 1) return 0
  return -chance * Math.log2(chance) - (1 - chance) * Math.log2(1 - chance)
}

/** How unsure one is between explanations, in bits. */
export const doubtIn = (suspicions: readonly Suspicion[]) =>
  suspicions.reduce((sum, { weight }) => sum - (weight > 0 ? weight * Math.log2(weight) : 0), 0)

export interface Split {
  /** The chance that the check fails, as things stand. */
  fails: number
  /** Bits that its answer is expected to tell: the mutual information of answer and explanation (Shannon 1948). */
  bits: number
}

export function splitOf(check: string, suspicions: readonly Suspicion[], catches: Catches): Split {
  let fails = 0
  let blur = 0
  for (const { blocks, weight } of suspicions) {
    const chance = chanceOfFailure(check, blocks, catches)
    fails += weight * chance
    blur += weight * bitOf(chance)
  }
  return { fails, bits: Math.max(0, bitOf(fails) - blur) }
}
