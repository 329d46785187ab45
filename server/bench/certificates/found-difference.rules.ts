import { z } from 'zod'
import { type CertificatePayload, evidenceShape, faultShape } from './certificates.contract'

/** The first place at which a record says something else than what was signed. */
export interface Difference {
  /** As a path: `results.B6.shown`. */
  path: string
  words: string
}

type Fault = z.infer<typeof faultShape>
type Evidence = z.infer<typeof evidenceShape>

const foundShape = z.looseObject({
  faults: z.array(faultShape).default([]),
  evidence: z.array(evidenceShape).default([]),
})

/**
 * What was found and what was chosen to be shown only grows: a fault that was signed is closed later and others come, evidence
 * is added. What was signed of either must stand in the record as it was, and no fault from before may come into it.
 */
export function foundDifference(signed: CertificatePayload, record: unknown): Difference | null {
  const read = foundShape.safeParse(record)
  if (!read.success) return { path: 'faults', words: 'The faults or the evidence of the record are not of the form that a house gives.' }
  const { faults, evidence } = read.data
  return faultsDiffer(signed, faults) ?? evidenceDiffers(signed.evidence ?? [], evidence)
}

function faultsDiffer({ faults: signed, issuedAt }: CertificatePayload, faults: readonly Fault[]): Difference | null {
  // Certificates that were signed earlier do not say.
  if (signed === undefined) return null
  for (const [index, fault] of signed.entries()) {
    const twin = faults.find((one) => one.foundAt === fault.foundAt && one.check === fault.check)
    const path = `faults.${index + 1}`
    if (!twin) return { path, words: `${placeOf(fault)} was signed and is missing from the record.` }
    const isSame = twin.closedAt === fault.closedAt && twin.cause === fault.cause
    const isClosedSince = fault.closedAt === null && twin.closedAt !== null && twin.closedAt >= issuedAt
    if (!isSame && !isClosedSince) return { path, words: `${placeOf(fault)}: signed as ${told(fault)}, the record says ${told(twin)}.` }
  }
  const more = faults.find(
    ({ foundAt, check }) => foundAt < issuedAt && !signed.some((one) => one.foundAt === foundAt && one.check === check),
  )
  return more ? { path: 'faults', words: `${placeOf(more)} is from before, and was not signed.` } : null
}

function evidenceDiffers(signed: readonly Evidence[], evidence: readonly Evidence[]): Difference | null {
  for (const [index, one] of signed.entries()) {
    const twins = evidence.filter(({ sha256, check }) => sha256 === one.sha256 && check === one.check)
    const place = `The evidence, ${one.kind}${one.check === null ? '' : ` at ${one.check}`} (${one.sha256.slice(0, 12)}…)`
    const path = `evidence.${index + 1}`
    if (twins.length === 0) return { path, words: `${place}: it was signed, and the record does not show it any more.` }
    if (
      !twins.some(
        ({ kind, name, words, takenAt }) => kind === one.kind && name === one.name && words === one.words && takenAt === one.takenAt,
      )
    )
      return { path, words: `${place}: the record says something else of it than was signed.` }
  }
  return null
}

const placeOf = ({ check, foundAt }: Fault) =>
  `The fault that was found ${check === null ? '' : `by ${check} `}at ${foundAt.slice(0, 16).replace('T', ' ')} UTC`

const told = ({ closedAt, cause }: Fault) =>
  closedAt === null ? 'open' : `closed, ${cause === 'none' ? 'no fault' : (cause ?? 'of no known cause')}`
