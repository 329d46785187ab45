import { downstreamOf } from '../designs/blocks.rules'
import type { Check, Feed } from '../designs/design.contract'
import { isCurrentOrRipple } from '../units/undo.rules'

/** The chance that a check fails if a given block is the faulty one: by what the block is to the check. */
export interface CommonCatch {
  /** A block that the check exercises. */
  own: number
  /** A block that feeds one of those, near or far, if the machine is powered. */
  feeding: number
  /** A fitted block that those power, for a check of a current, a ripple or a rail. */
  loading: number
}

// Common practice, no source: a check seldom misses its own block, and a bad load does not always pull its rail down.
export const COMMON_CATCH: CommonCatch = { own: 0.9, feeding: 0.9, loading: 0.5 }

/** Per check the catch of every block; a block that is not named is one that the check cannot see. */
export type Catches = ReadonlyMap<string, ReadonlyMap<string, number>>

export interface CatchFacts {
  checks: readonly Check[]
  feeds: readonly Feed[]
  blocks: readonly string[]
  /** Blocks in which nothing is empty: only those draw a current that means anything. */
  fitted: ReadonlySet<string>
}

export function catchesOf({ checks, feeds, blocks, fitted }: CatchFacts, common: CommonCatch = COMMON_CATCH): Catches {
  const known = new Set(blocks)
  return new Map(
    checks.map((check) => {
      const row = new Map<string, number>()
      if (seesLoads(check)) for (const block of loadsOf(check, feeds)) if (fitted.has(block)) row.set(block, common.loading)
      if (check.isPowered) for (const block of feedersOf(check, feeds)) row.set(block, common.feeding)
      for (const block of check.exercises) row.set(block, common.own)
      return [check.key, new Map([...row].filter(([block, share]) => known.has(block) && share > 0))]
    }),
  )
}

/** A current, a ripple or a rail: what stands on it moves with what hangs on it. */
export const seesLoads = (check: Check) => check.isPowered && (isCurrentOrRipple(check) || check.stageKind === 'rails')

const loadsOf = (check: Check, feeds: readonly Feed[]) =>
  downstreamOf(
    check.exercises,
    feeds.filter(({ kind }) => kind === 'power'),
  )

function feedersOf(check: Check, feeds: readonly Feed[]): Set<string> {
  const turned = feeds.map(({ from, to, kind }) => ({ from: to, to: from, kind }))
  return downstreamOf(check.exercises, turned)
}

/** Catches that somebody set, or that closed faults have taught, in the place of the common ones. */
export function withCatches(catches: Catches, changes: Iterable<{ check: string; block: string; share: number }>): Catches {
  const changed = new Map([...catches].map(([check, row]) => [check, new Map(row)]))
  for (const { check, block, share } of changes) changed.get(check)?.set(block, share)
  return changed
}

/** In a row of catches: that the check fails by itself, whatever is faulty. No block has this name. */
export const BY_ITSELF = ''

/** A reading that was mistyped, a probe that slipped: so many failures in a hundred mean nothing. Common practice, no source. */
export const SLIP = 0.02

/** No check is certain to fail for any block. */
export const MOST_CAUGHT = 0.99

/** Catches as people take readings: one slip clears no block, and no check is surer than 99 in a hundred. */
export const asTaken = (catches: Catches): Catches =>
  new Map(
    [...catches].map(([check, row]) => [
      check,
      new Map([...[...row].map(([block, share]) => [block, Math.min(share, MOST_CAUGHT)] as const), [BY_ITSELF, SLIP]]),
    ]),
  )

/** The same as if nobody ever slipped: what can be explained by blocks alone. */
export const withoutSlips = (catches: Catches): Catches =>
  new Map([...catches].map(([check, row]) => [check, new Map([...row].filter(([block]) => block !== BY_ITSELF))]))
