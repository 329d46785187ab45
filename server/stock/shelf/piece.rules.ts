import { checkCharacter } from '#kernel/ids'
import type { Verdict } from './shelf.contract'

export const batchCode = (number: number): string => `B-${String(number).padStart(4, '0')}`

/** B-0147-Q: what is printed on a bag, the code with a check character of its own. */
export function batchTag(number: number): string {
  const body = String(number).padStart(4, '0')
  return `B-${body}-${checkCharacter(`B${body}`)}`
}

/** P-0012-H: the last is a check character (ISO/IEC 7064, MOD 37-2) over the rest, so that a slip in typing it is found. */
export function pieceTag(number: number): string {
  const body = String(number).padStart(4, '0')
  return `P-${body}-${checkCharacter(`P${body}`)}`
}

export interface Looked {
  reader: string
  verdict: Exclude<Verdict, 'not inspected'>
}

/** Verdicts by which a reader refuses a piece. One reader alone may be at fault itself. */
const REFUSED: readonly Verdict[] = ['locked', 'dead', 'unknown image', 'wrong part']

/**
 * What is concluded about a piece from everything that was said of it, oldest first. The latest word counts, but
 * a programmed piece that one reader refuses is "reader uncertain" until a second reader agrees.
 */
export function verdictAfter(looks: readonly Looked[], programmed: boolean): Verdict {
  const latest = looks.at(-1)
  if (latest === undefined) return 'not inspected'
  if (!programmed || !REFUSED.includes(latest.verdict)) return latest.verdict
  const same = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase()
  const agreed = looks.some((look) => look.verdict === latest.verdict && !same(look.reader, latest.reader))
  return agreed ? latest.verdict : 'reader uncertain'
}

/** A programmed part counts as good only once it was read; of anything else what was not looked at is taken as good. */
export function countsAsGood(verdict: Verdict, programmed: boolean): boolean {
  if (verdict === 'not inspected') return !programmed
  return verdict === 'good' || verdict === 'good and blank' || verdict === 'good and programmed'
}

export interface BatchCount {
  quantity: number
  bad: number
  quarantined: boolean
  /** Verdicts of tagged pieces that are not in a unit. */
  loosePieces: readonly Verdict[]
  /** How many of the batch, tagged or not, are in units now. */
  fitted: number
  programmed: boolean
}

/** Good pieces of a batch in hand: never below nought, since a miscount must not hide another batch's pieces. */
export function goodInHand({ quantity, bad, quarantined, loosePieces, fitted, programmed }: BatchCount): number {
  if (quarantined) return 0
  const notGood = loosePieces.filter((verdict) => !countsAsGood(verdict, programmed)).length
  return Math.max(0, quantity - bad - notGood - fitted)
}
