import hypergeometricCdf from '@stdlib/stats-base-dists-hypergeometric-cdf'

export const FACTORS = ['batch', 'builder', 'instrument', 'step'] as const
export type Factor = (typeof FACTORS)[number]

/** Something that units may have in common: a batch that both hold, the hand that built both, the meter that read both. */
export interface Shared {
  factor: Factor
  name: string
  /** Where it comes in, such as "at Q1, in front end". */
  where: string
  /** Units that have it, of those on which the check was taken. */
  tags: readonly string[]
}

export interface CommonCause extends Shared {
  /** Of the units with it: how many failed and how many did not; and of those without it. */
  failedWith: number
  passedWith: number
  failedWithout: number
  passedWithout: number
  /** The chance that so many of the failures would have it by accident (Fisher's exact test, one-sided). */
  chance: number
}

/**
 * Fisher's exact test, one-sided (Fisher 1935, The Design of Experiments, II): of `all` units `failed` failed; how likely
 * is it that, of the `having` with something, at least `both` are among them, if it has nothing to do with it?
 */
export const fisher = ({ all, failed, having, both }: { all: number; failed: number; having: number; both: number }): number =>
  both <= 0 ? 1 : Math.min(1, Math.max(0, 1 - hypergeometricCdf(both - 1, all, failed, having)))

/**
 * What the units on which a check failed have in common, what would least be an accident first. What all units have, and
 * what fewer than two of the failed have, says nothing and is left out.
 */
export function rankCauses(taken: readonly string[], failed: readonly string[], shared: readonly Shared[]): CommonCause[] {
  const failedTags = new Set(failed)
  const ranked = shared.flatMap((one): CommonCause[] => {
    const having = taken.filter((tag) => one.tags.includes(tag))
    const both = having.filter((tag) => failedTags.has(tag)).length
    if (both < 2 || having.length === taken.length) return []
    const counts = { all: taken.length, failed: failedTags.size, having: having.length, both }
    return [
      {
        ...one,
        tags: having,
        failedWith: both,
        passedWith: having.length - both,
        failedWithout: failedTags.size - both,
        passedWithout: taken.length - having.length - (failedTags.size - both),
        chance: fisher(counts),
      },
    ]
  })
  return ranked.sort((a, b) => a.chance - b.chance || FACTORS.indexOf(a.factor) - FACTORS.indexOf(b.factor) || a.name.localeCompare(b.name))
}

/** What so many comparisons are worth: with so few units none is proof, and of many one is small by accident. */
export function causeWords(taken: number, failed: number, compared: number): string {
  const least = fisher({ all: taken, failed, having: failed, both: failed })
  const said = `Of ${taken} units ${failed} failed; the smallest chance that so few could show is ${chanceWords(least)}.`
  return compared < 2 ? said : `${said} ${compared} things were compared, so one small figure among them is no proof: look there first.`
}

/** "1 in 6", "1 in 70": small chances as people say them. */
export function chanceWords(chance: number): string {
  if (chance >= 0.995) return 'certain'
  if (chance > 0.5) return `${Math.round(chance * 100)} in 100`
  return `1 in ${Math.round(1 / Math.max(chance, 1e-9)).toLocaleString('en')}`
}
