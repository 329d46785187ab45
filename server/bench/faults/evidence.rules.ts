import type { Check } from '../designs/design.contract'
import type { CheckState, Superseded, TakenReading } from '../units/current.rules'
import { isCloseOut } from '../units/undo.rules'
import { isPass } from '../units/verdict.rules'
import type { Seen } from './suspects.rules'

/** A reading as evidence: corrected ones are none, and what a change undid speaks of another machine. */
export interface EvidentReading extends Pick<TakenReading, 'id' | 'seq' | 'check' | 'verdict' | 'correction'> {}

/**
 * Everything that was read since the last change that could have touched it, as evidence: of what comes and goes the last
 * word is not the only one. Each failure counts; of passes of one check the first counts, since a second of the same says
 * little that is new.
 */
export function allSeen(
  readings: readonly EvidentReading[],
  superseded: ReadonlyMap<string, Superseded>,
  checks: readonly Check[],
): Seen[] {
  return checks.flatMap((check) => {
    if (isCloseOut(check)) return []
    const own = readings.filter((one) => one.check === check.key).sort((a, b) => a.seq - b.seq)
    const lost = own.findLastIndex(({ id }) => superseded.get(id)?.by === 'change')
    const counted = own.slice(lost + 1).filter((_, at, left) => left[at + 1]?.correction == null)
    const first = counted.findIndex(({ verdict }) => isPass(verdict))
    return counted
      .filter(({ verdict }, at) => !isPass(verdict) || at === first)
      .map(({ verdict }) => ({ check: check.key, failed: !isPass(verdict) }))
  })
}

/** What stands, as evidence: one answer for each check, taken in its order or while searching. Closing the record says nothing of the machine. */
export function seenIn(states: ReadonlyMap<string, CheckState>, checks: readonly Check[]): Seen[] {
  return checks.flatMap((check) => {
    const verdict = states.get(check.key)?.verdict
    return verdict == null || isCloseOut(check) ? [] : [{ check: check.key, failed: !isPass(verdict) }]
  })
}

export const failedIn = (states: ReadonlyMap<string, CheckState>): string[] =>
  [...states].flatMap(([key, { verdict }]) => (verdict !== null && !isPass(verdict) ? [key] : []))
