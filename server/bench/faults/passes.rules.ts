import { BY_ITSELF, type Catches } from './catch.rules'

/**
 * How much a further pass counts beside those that a block has: one over its place to the power of 0.4. What one check of a block
 * misses, the next is likely to miss as well, since faults hide from checks of the same kind. Common practice, no source.
 */
export const weightOfPass = (place: number): number => 1 / (place + 1) ** 0.4

/** The chance that a fault passes all these checks, by the chance with which each misses it; the one that tells most counts whole. */
export const passesAll = (misses: readonly number[]): number =>
  misses.toSorted((a, b) => a - b).reduce((product, missed, place) => product * missed ** weightOfPass(place), 1)

/** Catches of what may be checked next: of a block that has passed already, a further check finds out less. */
export function afterPasses(catches: Catches, seen: readonly { check: string; failed: boolean }[]): Catches {
  const passes = new Map<string, number>()
  for (const { check, failed } of seen) {
    if (failed) continue
    for (const [block, share] of catches.get(check) ?? []) {
      if (block !== BY_ITSELF && share > 0) passes.set(block, (passes.get(block) ?? 0) + 1)
    }
  }
  return new Map(
    [...catches].map(([check, row]) => [
      check,
      new Map(
        [...row].map(([block, share]) => [block, block === BY_ITSELF ? share : 1 - (1 - share) ** weightOfPass(passes.get(block) ?? 0)]),
      ),
    ]),
  )
}
