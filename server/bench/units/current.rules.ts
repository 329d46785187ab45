import type { Check, Feed } from '../designs/design.contract'
import { type Change, undoneBy } from './undo.rules'
import { isPass, type Verdict } from './verdict.rules'

/** The parts of a recorded reading that say whether it still stands. `seq` orders all that happened to one unit. */
export interface TakenReading {
  id: string
  seq: number
  check: string
  verdict: Verdict
  /** Why this reading corrects the one before it; null for one taken afresh. */
  correction: string | null
  /** Its needs were waived to find a fault: it can tell against the unit, and never for it. */
  isWhileSearching?: boolean
}

export interface RecordedChange extends Change {
  id: string
  seq: number
  /** What was changed, in the words of who did it. */
  words: string
  /** Settled when it happened, by the revision that was in force then: each check that it undoes, with why. */
  undone?: ReadonlyMap<string, string>
}

export interface Release {
  check: string
  seq: number
  name: string
}

export interface Superseded {
  reading: string
  by: 'reading' | 'change'
  id: string
  why: string
}

export interface CheckState {
  check: string
  /** The reading that stands; null when there is none, or a change spoilt it. */
  current: string | null
  verdict: Verdict | null
  /** What stands was taken while searching: it is no pass, whatever its verdict. */
  isWhileSearching: boolean
  /** A change spoilt what stood here, and nothing was taken since. */
  lost: Superseded | null
  releasedBy: string | null
}

export interface Standing {
  states: Map<string, CheckState>
  superseded: Map<string, Superseded>
}

export interface UnitHistory {
  readings: readonly TakenReading[]
  changes: readonly RecordedChange[]
  releases: readonly Release[]
}

/**
 * Which readings stand, from the facts alone: a later reading of the same check supersedes an
 * earlier one; a later change supersedes what it could have spoilt. A release of a hold point
 * stands only as long as the reading that it was given for. A pass taken while searching leaves a
 * reading taken in its order standing; a failure does not.
 */
export function standingOf(checks: readonly Check[], feeds: readonly Feed[], history: UnitHistory): Standing {
  const superseded = new Map<string, Superseded>()
  const spoils = history.changes.map((change) => ({
    change,
    undone: change.undone ?? new Map(undoneBy(change, checks, feeds).map((one) => [one.check, one.why])),
  }))
  const states = new Map<string, CheckState>()
  for (const check of checks) {
    const all = history.readings.filter((reading) => reading.check === check.key).sort((a, b) => a.seq - b.seq)
    const isSpoilt = (from: number, to: number) =>
      spoils.some(({ change, undone }) => change.seq > from && change.seq < to && undone.has(check.key))
    const taken: TakenReading[] = []
    for (const reading of all) {
      const before = taken.at(-1)
      const isBeside = reading.isWhileSearching && isPass(reading.verdict) && before && !before.isWhileSearching
      if (!isBeside || isSpoilt(before.seq, reading.seq)) taken.push(reading)
      else superseded.set(reading.id, { reading: reading.id, by: 'reading', id: before.id, why: 'the reading in its order stands' })
    }
    for (const [index, reading] of taken.entries()) {
      const next = taken[index + 1]
      const spoilt = spoils
        .filter(({ change, undone }) => change.seq > reading.seq && undone.has(check.key) && (next === undefined || change.seq < next.seq))
        .sort((a, b) => a.change.seq - b.change.seq)[0]
      if (spoilt) {
        const why = `${spoilt.change.words}: ${spoilt.undone.get(check.key)}`
        superseded.set(reading.id, { reading: reading.id, by: 'change', id: spoilt.change.id, why })
      } else if (next) {
        const why = next.correction === null ? 'taken again' : `corrected: ${next.correction}`
        superseded.set(reading.id, { reading: reading.id, by: 'reading', id: next.id, why })
      }
    }
    const last = taken.at(-1)
    const gone = last ? superseded.get(last.id) : undefined
    const stands = last && !gone ? last : null
    const release = stands ? history.releases.find((one) => one.check === check.key && one.seq > stands.seq) : undefined
    states.set(check.key, {
      check: check.key,
      current: stands?.id ?? null,
      verdict: stands?.verdict ?? null,
      isWhileSearching: stands?.isWhileSearching === true,
      lost: gone ?? null,
      releasedBy: release?.name ?? null,
    })
  }
  for (const reading of history.readings.filter(({ check }) => !states.has(check))) {
    const ended = spoils.find(({ change, undone }) => change.seq > reading.seq && undone.has(reading.check))
    const why = ended ? `${ended.change.words}: ${ended.undone.get(reading.check)}` : 'the checklist has no such check'
    superseded.set(reading.id, { reading: reading.id, by: 'change', id: ended?.change.id ?? '', why })
  }
  return { states, superseded }
}

/** The check stands with a pass, and if it holds up the list, somebody let the work go on. */
export function isDone(check: Check, state: CheckState | undefined): boolean {
  return hasPassed(state) && (!check.isHold || state?.releasedBy != null)
}

export const hasPassed = (state: CheckState | undefined) => state?.verdict != null && isPass(state.verdict) && !state.isWhileSearching
