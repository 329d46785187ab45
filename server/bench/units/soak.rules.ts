import type { Instant } from '#kernel/instant'
import type { Check } from '../designs/design.contract'

/** Something noted while a soak runs. `power`: it went off or came on again; null where it ran on. */
export interface SoakNote {
  at: Instant
  power: 'off' | 'on' | null
  temperature: string
  supply: string
  words: string
}

export interface SoakFacts {
  check: string
  startedAt: Instant
  /** When it was switched on from cold again. */
  coldStarts: readonly Instant[]
  notes: readonly SoakNote[]
}

type Ran = Omit<SoakFacts, 'check'>

const HOUR = 3_600_000

/** How long it had power up to `until`, in milliseconds. Cooling down for a cold start is a part of a soak; lost power is not. */
export function poweredFor({ startedAt, notes }: Pick<Ran, 'startedAt' | 'notes'>, until: Instant): number {
  let ran = 0
  let since: Instant | null = startedAt
  for (const { at, power } of notes) {
    if (power === 'off' && since !== null) {
      ran += at - since
      since = null
    } else if (power === 'on' && since === null) since = at
  }
  return Math.max(0, since === null ? ran : ran + until - since)
}

export const isWithoutPower = ({ notes }: Pick<Ran, 'notes'>): boolean => notes.findLast(({ power }) => power !== null)?.power === 'off'

/** What the house saw of a run: its hours in tenths, never rounded up, and its cold starts. */
export interface SoakSeen {
  hours: number
  starts: number
}

export const seenOf = (run: Ran, until: Instant): SoakSeen => ({
  hours: Math.floor(poweredFor(run, until) / (HOUR / 10)) / 10,
  starts: run.coldStarts.length,
})

/**
 * How the hours of a soak that was entered at `at` are known. "observed": it was started in the house and entered no sooner
 * than so many hours later, with so many cold starts noted between. "stated": whoever entered it said so.
 */
export function howSoakIsKnown(
  entered: { at: Instant; hours: number; starts: number },
  runs: readonly (Ran & { endedAt: Instant | null })[],
): 'observed' | 'stated' {
  const isObserved = runs.some(
    (run) => run.endedAt === entered.at && poweredFor(run, run.endedAt) >= entered.hours * HOUR && run.coldStarts.length >= entered.starts,
  )
  return isObserved ? 'observed' : 'stated'
}

export interface SoakClock extends SoakSeen {
  /** Every hour and every cold start it needs is there. */
  isOver: boolean
  /** "3.4 of 12 h, 2 of 6 cold starts" */
  words: string
  /** When the hours will be full; null once they are, and while it is without power. */
  hoursFullAt: Instant | null
  isWithoutPower: boolean
}

/** How far a soak has come. The hours run on through its cold starts, and stand still while it is without power. */
export function soakClock(run: SoakFacts, check: Pick<Check, 'soakHours' | 'coldStarts'>, now: Instant): SoakClock {
  const wanted = check.soakHours ?? 0
  const { hours, starts } = seenOf(run, now)
  const startsWanted = check.coldStarts ?? 0
  const left = wanted * HOUR - poweredFor(run, now)
  const isOff = isWithoutPower(run)
  const cold = startsWanted > 0 ? `, ${starts} of ${startsWanted} cold starts` : ''
  return {
    hours,
    starts,
    isOver: left <= 0 && starts >= startsWanted,
    words: `${hours.toFixed(1)} of ${wanted} h${cold}${isOff ? ', without power' : ''}`,
    hoursFullAt: left <= 0 || isOff ? null : now + left,
    isWithoutPower: isOff,
  }
}
