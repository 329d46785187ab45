import { type Instant, MINUTE } from '#kernel/instant'

/** Something that somebody did on a machine, and noted there: a reading, a fitting, a rework, a release, something seen. */
export interface Stamp {
  unitId: string
  personId: string
  at: Instant
}

/** How stamps become hours. Common practice: 30 minutes, and 5 before the first note. */
export interface Counting {
  /** After so long without a stamp the work was left. */
  pauseMinutes: number
  /** So long before its first stamp a session began; at most the pause. */
  leadMinutes: number
}

/** Time of one person on one machine without a break. */
export interface Stretch {
  unitId: string
  personId: string
  from: Instant
  to: Instant
}

/**
 * Hours from what was done, person by person. Between two stamps that are no further apart than the pause the person worked, on the
 * machine of the later one; after a longer gap a new session begins, a little before its first stamp. So nobody's minute counts twice,
 * whichever machine lay beside, and two people at one machine count both. In the order in which they began.
 */
export function stretchesOf(stamps: readonly Stamp[], { pauseMinutes, leadMinutes }: Counting): Stretch[] {
  const [pause, lead] = [pauseMinutes * MINUTE, Math.min(leadMinutes, pauseMinutes) * MINUTE]
  const open = new Map<string, Stretch>()
  const all: Stretch[] = []
  for (const { unitId, personId, at } of [...stamps].sort((a, b) => a.at - b.at)) {
    const last = open.get(personId)
    const goesOn = last !== undefined && at - last.to <= pause
    if (goesOn && last.unitId === unitId) {
      last.to = at
      continue
    }
    const stretch = { unitId, personId, from: goesOn ? last.to : at - lead, to: at }
    open.set(personId, stretch)
    all.push(stretch)
  }
  return all.filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from)
}

/** Whole minutes of stretches, rounded once, at the end. */
export const minutesOf = (stretches: readonly Pick<Stretch, 'from' | 'to'>[]): number =>
  Math.round(stretches.reduce((sum, { from, to }) => sum + (to - from), 0) / MINUTE)
