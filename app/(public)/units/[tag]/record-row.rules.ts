import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { doubtShort, plainSentence, shownWithUnit } from '#bench/certificates/sentences.rules'
import type { Verdict } from '#bench/units/verdict.rules'
import { dayIn } from './record.rules'

/**
 * One reading as it is sent to the page, in as few letters as it takes: a phone reads a record of thirty of them. What is
 * sent once here is drawn on the server and, from the same row, in the browser.
 */
export type RecordRow = [
  check: string,
  title: string,
  shown: string,
  verdict: Verdict,
  /** For somebody who owns no meter. */
  plain: string,
  /** Doubt, instrument, day: for somebody who does. */
  particulars: string,
  /** Value, lower and upper limit, nominal, doubt, unit; none where it lies on no scale. */
  scale?: [value: number, lower: number | null, upper: number | null, nominal: number | null, doubt: number | null, unit: string],
]

export function recordRow(result: CertificateResult, isForHome: boolean, zone: string): RecordRow {
  const { check, title, verdict, doubt, unit, instrument, takenAt, value, lower, upper, nominal } = result
  const plusMinus = doubt ? `± ${doubtShort(doubt)}${unit ? ` ${unit}` : ''}` : null
  const particulars = [plusMinus, instrument, dayIn(Date.parse(takenAt), zone), isForHome && 'try this one at home']
    .filter(Boolean)
    .join(' · ')
  const row: RecordRow = [check, title, shownWithUnit(result), verdict, plainSentence(result), particulars]
  if (value !== null && (lower !== null || upper !== null))
    row.push([value, lower, upper, nominal, doubt && Number(doubt.toPrecision(3)), unit ?? ''])
  return row
}
