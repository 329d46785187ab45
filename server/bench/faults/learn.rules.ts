import type { Catches } from './catch.rules'

/** A fault that was found and mended, as far as it teaches something for the next. */
export interface ClosedFault {
  block: string
  minutes: number
  /** What every check had said by then: true where it failed. */
  seen: Readonly<Record<string, boolean>>
}

/** What the parts list says weighs as much as this many closed faults. Common practice, no source. */
export const PARTS_LIST_WEIGHS = 10

/** A catch as it is assumed weighs as much as this many faults for which the check was taken. Common practice, no source. */
export const CATCH_WEIGHS = 10

/** What one assumes before any fault was closed, and how many closed faults that weighs. Common practice, no source. */
export const USUAL_MINUTES = 30
const MINUTES_WEIGH = 3

/** Mean of a Beta distribution after `yes` of `yes + no`, begun at `share` with the weight of so many: (w·share + yes) ÷ (w + yes + no). */
export const learnt = (share: number, weight: number, yes: number, no: number) => (weight * share + yes) / (weight + yes + no)

/**
 * Prior shares after closed faults: the mean of a Dirichlet distribution begun at the parts list's shares,
 * (w·share + faults closed in the block) ÷ (w + all closed faults).
 */
export function sharpened(prior: ReadonlyMap<string, number>, closed: readonly ClosedFault[]): Map<string, number> {
  const known = closed.filter(({ block }) => prior.has(block))
  return new Map(
    [...prior].map(([block, share]) => {
      const here = known.filter((one) => one.block === block).length
      return [block, learnt(share, PARTS_LIST_WEIGHS, here, known.length - here)]
    }),
  )
}

/** Catches that closed faults have something to say about: for each check taken then, whether it caught the block that it was. */
export function taughtCatches(catches: Catches, closed: readonly ClosedFault[]): { check: string; block: string; share: number }[] {
  return [...catches].flatMap(([check, row]) =>
    [...new Set(closed.map(({ block }) => block))].flatMap((block) => {
      const said = closed.filter((one) => one.block === block).flatMap((one) => one.seen[check] ?? [])
      if (said.length === 0) return []
      const failed = said.filter(Boolean).length
      return [{ check, block, share: learnt(row.get(block) ?? 0, CATCH_WEIGHS, failed, said.length - failed) }]
    }),
  )
}

/** Minutes to find and mend a fault of this block: the mean of its closed faults, drawn towards the usual by the weight of three. */
export function minutesFor(block: string, closed: readonly ClosedFault[]): number {
  const all = closed.map(({ minutes }) => minutes)
  const usual = (MINUTES_WEIGH * USUAL_MINUTES + sum(all)) / (MINUTES_WEIGH + all.length)
  const here = closed.filter((one) => one.block === block).map(({ minutes }) => minutes)
  return (MINUTES_WEIGH * usual + sum(here)) / (MINUTES_WEIGH + here.length)
}

const sum = (figures: readonly number[]) => figures.reduce((total, one) => total + one, 0)
