import type { ReactNode } from 'react'
import type { CertificateResult } from '../../../../server/certificates/certificates.contract'
import { shownWithUnit } from '../../../../server/certificates/sentences.rules'
import type { ReadingRow } from '../../../_ui/readings'

/** A result as a line of readings, with its gauge where it lies on a scale. */
export function readingRow(result: CertificateResult, note?: ReactNode): ReadingRow {
  const { check, title, value, lower, upper, nominal, doubt, unit, verdict } = result
  const hasScale = value !== null && (lower !== null || upper !== null)
  return {
    check,
    name: title,
    note,
    shown: shownWithUnit(result),
    verdict,
    ...(hasScale && { gauge: { value, lower, upper, nominal, doubt, unit: unit ?? '' } }),
  }
}
