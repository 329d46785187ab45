import type { ReactNode } from 'react'
import type { ReadingRow } from '#app/_ui/readings.tsx'
import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { shownWithUnit } from '#bench/certificates/sentences.rules'

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
