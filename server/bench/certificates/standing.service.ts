import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import type { Sight, Turn } from '#runtime/queue/turn'
import { fromBase64url } from './base64url.rules'
import type { CertificatePayload, CertificateState } from './certificates.contract'
import { type CertificateRow, findById, findStanding, listAll, listOfUnit, markWithdrawn } from './certificates.store'
import { readPayload } from './jws.rules'

/** Which certificate stands for a unit, and how one ends. Apart from the issuing, so that the rooms it is drawn from can end one. */

export interface Standing {
  serial: string
  issuedAt: Instant
}

/** The certificate that stands for the unit now; null when none does. A lot cannot open without. */
export function currentCertificate(sight: Sight, unitId: string): Standing | null {
  const row = findStanding(sight.db, unitId)
  return row && { serial: row.serial, issuedAt: row.issuedAt }
}

/** Every certificate a unit ever had, the newest first. */
export const certificatesOfUnit = (sight: Sight, unitId: string): (Standing & { state: CertificateState })[] =>
  listOfUnit(sight.db, unitId).map((row) => ({ serial: row.serial, issuedAt: row.issuedAt, state: stateOf(sight, row) }))

/** Every certificate of the house, in the order of issue. */
export const listCertificates = (sight: Sight): Standing[] => listAll(sight.db).map(({ serial, issuedAt }) => ({ serial, issuedAt }))

/**
 * Withdraws what stands for the unit, if anything does, because the unit is no longer what was certified:
 * a rework, a quarantined batch, a unit set aside. True when a certificate was withdrawn.
 */
export function withdrawForChange(turn: Turn, unitId: string, reason: string): boolean {
  const row = findStanding(turn.db, unitId)
  if (!row) return false
  endByWithdrawal(turn, row, reason)
  return true
}

export function endByWithdrawal(turn: Turn, row: CertificateRow, reason: string): void {
  markWithdrawn(turn.db, row.id, turn.now, reason)
  const { serial, unitId } = row
  turn.record({
    kind: 'certificate.withdrawn',
    subject: `certificate:${serial}`,
    body: { serial, unitId, tag: payloadOf(row).item.tag, reason },
  })
}

/** What was signed, read back. */
export function payloadOf(row: CertificateRow): CertificatePayload {
  const bytes = fromBase64url(row.payload)
  const payload = bytes && readPayload(bytes)
  invariant(payload, 'what was signed here can be read back')
  return payload
}

export function stateOf(sight: Sight, row: CertificateRow): CertificateState {
  if (row.withdrawnAt !== null) return { is: 'withdrawn', at: row.withdrawnAt, reason: row.withdrawnReason ?? '' }
  if (row.supersededBy === null) return { is: 'current' }
  const later = findById(sight.db, row.supersededBy)
  invariant(later, 'what supersedes a certificate is a certificate')
  return { is: 'superseded', by: later.serial, at: later.issuedAt }
}
