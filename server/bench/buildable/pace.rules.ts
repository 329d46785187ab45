import { dayAfter } from './build-plan.rules'

/** A machine that has all its parts, or could have them from what is in hand, in the order in which machines are built. */
export interface Waiting {
  tag: string
  designKey: string
  /** What was worked on it so far. */
  minutes: number
  /** The soak at its end, which runs beside other work. */
  soakHours: number
}

export interface PaceRow {
  tag: string
  /** Work that is left. */
  leftMinutes: number
  /** From finished machines of its design; else from the days that a unit was said to take. */
  isMeasured: boolean
  /** The civil day on which it could be ready. */
  readyOn: string
}

export interface Pace {
  /** Minutes that a finished machine of a design took, in the middle; by the design's key. */
  took: ReadonlyMap<string, number>
  weeklyMinutes: number
  /** Days at the bench that were said for a unit. */
  benchDays: number
  today: string
}

const MINUTES_A_DAY = 24 * 60

/**
 * When machines could be ready, one after the other: what finished ones of a design took less what was done already, at so many
 * minutes a week, spread over its seven days; and the soak after that.
 */
export function paceOf(waiting: readonly Waiting[], { took, weeklyMinutes, benchDays, today }: Pace): PaceRow[] {
  let before = 0
  return waiting.map(({ tag, designKey, minutes, soakHours }) => {
    const measured = took.get(designKey)
    const leftMinutes = Math.max(0, (measured ?? Math.round((benchDays * weeklyMinutes) / 7)) - minutes)
    before += leftMinutes
    const elapsed = (before * 7 * MINUTES_A_DAY) / weeklyMinutes + soakHours * 60
    return { tag, leftMinutes, isMeasured: measured !== undefined, readyOn: dayAfter(today, Math.ceil(elapsed / MINUTES_A_DAY)) }
  })
}
