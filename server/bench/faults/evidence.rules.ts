import type { Check } from '../designs/design.contract'
import type { CheckState } from '../units/current.rules'
import { isCloseOut } from '../units/undo.rules'
import { isPass } from '../units/verdict.rules'
import type { Seen } from './suspects.rules'

/** What stands, as evidence: one answer for each check, taken in its order or while searching. Closing the record says nothing of the machine. */
export function seenIn(states: ReadonlyMap<string, CheckState>, checks: readonly Check[]): Seen[] {
  return checks.flatMap((check) => {
    const verdict = states.get(check.key)?.verdict
    return verdict == null || isCloseOut(check) ? [] : [{ check: check.key, failed: !isPass(verdict) }]
  })
}

export const failedIn = (states: ReadonlyMap<string, CheckState>): string[] =>
  [...states].flatMap(([key, { verdict }]) => (verdict !== null && !isPass(verdict) ? [key] : []))
