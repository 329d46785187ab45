import { isPass, type Verdict } from '../units/verdict.rules'
import { sayFailed } from './say.rules'
import type { Seen } from './suspects.rules'

/** What stands of a check, as a fault is called by it. */
export interface StandsNow {
  check: string
  title: string
  entry: string
  verdict: Verdict
}

/** An open fault: the check that opened it, if one did, and what was said then. */
export interface Opened {
  checkKey: string | null
  symptom: string
}

/** "C12 Output: 0.31 V": a check that fails, as it is spoken of. */
export const symptomWords = ({ check, title, entry }: Pick<StandsNow, 'check' | 'title' | 'entry'>): string =>
  `${check} ${title}${entry === '' ? '' : `: ${entry}`}`

/**
 * A fault is called by what fails now: by the check that opened it while that fails, as it reads now; then by what else
 * fails; by what it did at first where nothing fails any more. What a person saw without a check keeps their words.
 */
export function faultTitle({ checkKey, symptom }: Opened, stands: readonly StandsNow[]): string {
  if (checkKey === null) return symptom
  const failing = stands.filter(({ verdict }) => !isPass(verdict))
  const own = stands.find(({ check }) => check === checkKey)
  const others = failing.filter(({ check }) => check !== checkKey)
  if (own && !isPass(own.verdict))
    return `${symptomWords(own)}${others.length === 0 ? '' : `, and ${keysOf(others)} fail${others.length === 1 ? 's' : ''} too`}`
  const first = others[0]
  if (!own) return first ? `${symptomWords(first)}; ${checkKey} is to be taken again` : symptom
  const before = sayFailed([checkKey], asSeen(stands))
  return first ? `${symptomWords(first)}; ${before}` : before
}

const keysOf = (list: readonly StandsNow[]) => list.map(({ check }) => check).join(', ')

const asSeen = (stands: readonly StandsNow[]): Seen[] => stands.map(({ check, verdict }) => ({ check, failed: !isPass(verdict) }))

/** The check that opened the fault passes now, nothing fails and nothing was changed: the first reading may have been a slip. */
export const mayBeSlip = ({ checkKey }: Opened, stands: readonly StandsNow[], wasChanged: boolean): boolean =>
  checkKey !== null && !wasChanged && stands.some(({ check }) => check === checkKey) && stands.every(({ verdict }) => isPass(verdict))
