import type { Instant } from '#kernel/instant'
import type { Check } from '../designs/design.contract'

export interface SoakFacts {
  check: string
  startedAt: Instant
  /** When it was switched on from cold again. */
  coldStarts: readonly Instant[]
}

/**
 * How the hours of a soak that was entered at `at` are known. "observed": it was started in the house and entered no sooner
 * than so many hours later, with so many cold starts noted between. "stated": whoever entered it said so.
 */
export function howSoakIsKnown(
  entered: { at: Instant; hours: number; starts: number },
  runs: readonly { startedAt: Instant; endedAt: Instant | null; coldStarts: readonly Instant[] }[],
): 'observed' | 'stated' {
  const isObserved = runs.some(
    ({ startedAt, endedAt, coldStarts }) =>
      endedAt === entered.at && endedAt - startedAt >= entered.hours * HOUR && coldStarts.length >= entered.starts,
  )
  return isObserved ? 'observed' : 'stated'
}

export interface SoakClock {
  /** Hours it has run, in tenths, never rounded up. */
  hours: number
  starts: number
  /** Every hour and every cold start it needs is there. */
  isOver: boolean
  /** "3.4 of 12 h, 2 of 6 cold starts" */
  words: string
  /** When the hours will be full; null once they are. */
  hoursFullAt: Instant | null
}

const HOUR = 3_600_000

/** How far a soak has come. The hours run on through its cold starts: cooling down is a part of them. */
export function soakClock({ startedAt, coldStarts }: SoakFacts, check: Pick<Check, 'soakHours' | 'coldStarts'>, now: Instant): SoakClock {
  const wanted = check.soakHours ?? 0
  const hours = Math.floor(Math.max(0, now - startedAt) / (HOUR / 10)) / 10
  const starts = coldStarts.length
  const startsWanted = check.coldStarts ?? 0
  const fullAt = startedAt + wanted * HOUR
  const cold = startsWanted > 0 ? `, ${starts} of ${startsWanted} cold starts` : ''
  return {
    hours,
    starts,
    isOver: now >= fullAt && starts >= startsWanted,
    words: `${hours.toFixed(1)} of ${wanted} h${cold}`,
    hoursFullAt: now >= fullAt ? null : fullAt,
  }
}
