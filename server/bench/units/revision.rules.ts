import { limitWords } from '../designs/check-words.rules'
import type { Check, DecisionRule, Feed } from '../designs/design.contract'
import type { RecordedChange, TakenReading } from './current.rules'
import { undoneBy } from './undo.rules'

/** What of a design decides whether a reading carries over. */
export interface ByRevision {
  revision: string
  decisionRule: DecisionRule
  checks: readonly Check[]
  feeds: readonly Feed[]
}

export interface Retake {
  check: string
  title: string
  why: string
}

/** What going on by another revision means for the readings of one unit that stand. */
export interface RevisionMeans {
  /** Stand as before; `worded` when the check says it in other words now. */
  carries: { check: string; title: string; worded: boolean }[]
  retakes: Retake[]
  /** Checks of the new revision that the old one did not have. */
  begins: { check: string; title: string }[]
  /** Readings of checks that the new revision has no more: they stay in the record only. */
  ends: Retake[]
}

/**
 * A reading carries over when the check asks for the same thing and judges it the same: kind, limits, unit, what a match
 * expects, powered or not, hours and cold starts, and the rule of the design. Other words, another place in the list and
 * other needs order the work and change no reading. A change of the machine that was made since, and that by the blocks
 * of the new revision could have touched it, ends it as well.
 */
export function whatItMeans(
  before: ByRevision,
  after: ByRevision,
  standing: readonly TakenReading[],
  changes: readonly RecordedChange[],
): RevisionMeans {
  const next = new Map(after.checks.map((check) => [check.key, check]))
  const spoilt = changes
    .filter(isRework)
    .map((change) => ({ change, undone: new Set(undoneBy(change, after.checks, after.feeds).map(({ check }) => check)) }))
  const means: RevisionMeans = { carries: [], retakes: [], begins: [], ends: [] }
  for (const reading of standing) {
    const was = before.checks.find(({ key }) => key === reading.check)
    if (!was) continue
    const { key, title } = was
    const is = next.get(key)
    if (!is) {
      means.ends.push({ check: key, title, why: `revision ${after.revision} has no such check` })
      continue
    }
    const touched = spoilt.find(({ change, undone }) => change.seq > reading.seq && undone.has(key))
    const why =
      whyAnew(was, is, before.decisionRule !== after.decisionRule) ??
      (touched ? `by its blocks, "${touched.change.words}" touched it` : null)
    if (why !== null) means.retakes.push({ check: key, title: is.title, why })
    else means.carries.push({ check: key, title: is.title, worded: was.title !== is.title })
  }
  const known = new Set(before.checks.map(({ key }) => key))
  means.begins = after.checks.filter(({ key }) => !known.has(key)).map(({ key, title }) => ({ check: key, title }))
  return means
}

/** A move to another revision touches no block; a rework that names none may have touched anything that a soak would show. */
const isRework = ({ blocks, iron }: RecordedChange) => blocks.length > 0 || iron

/** Why a reading of the check as it was is none of the check as it is; null when it is. */
function whyAnew(was: Check, is: Check, otherRule: boolean): string | null {
  if (was.kind !== is.kind) return `it was a ${was.kind} and is a ${is.kind}`
  if (was.unit !== is.unit) return `its unit was ${was.unit || 'none'} and is ${is.unit || 'none'}`
  if (was.expects !== is.expects) return 'another image or code is expected'
  if (was.isPowered !== is.isPowered) return is.isPowered ? 'it is taken with the power on now' : 'it is taken with the power off now'
  if (was.lower !== is.lower || was.upper !== is.upper || was.soakHours !== is.soakHours || was.coldStarts !== is.coldStarts)
    return `its limits were ${limitWords(was)} and are ${limitWords(is)}`
  return otherRule && is.kind === 'measure' ? 'readings are judged by another rule' : null
}
