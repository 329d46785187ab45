import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import type { Sight, Turn } from '#runtime/queue/turn'
import { getUnitRow } from '../units/roster.service'
import { lastEntryOf, loadUnit } from '../units/unit-state.service'
import { fromBase64url } from './base64url.rules'
import type { CertificatePayload, CertificateState } from './certificates.contract'
import { CERTIFICATE_WITHDRAWN } from './certificates.contract'
import { namedByWithdrawal } from './certificates.rules'
import { type CertificateRow, findById, findStanding, listAll, listOfUnit, markWithdrawn, nextOfUnit } from './certificates.store'
import { readPayload } from './jws.rules'
import type { WithdrawnFacts } from './record.contract'

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
export function withdrawForChange(turn: Turn, unitId: string, reason: string, checks: readonly string[] = []): boolean {
  const row = findStanding(turn.db, unitId)
  if (!row) return false
  endByWithdrawal(turn, row, { reason, checks })
  return true
}

/** `checks` are those that have to be measured again before another is issued; without any, those of the close-out. */
export function endByWithdrawal(turn: Turn, row: CertificateRow, { reason, checks }: { reason: string; checks: readonly string[] }): void {
  const { serial, unitId } = row
  const { tag } = getUnitRow(turn, unitId)
  const again = namedByWithdrawal(checks, loadUnit(turn, tag).design.checks)
  markWithdrawn(turn.db, row.id, { at: turn.now, reason, checks: again, seq: lastEntryOf(turn, unitId) })
  turn.record({ kind: CERTIFICATE_WITHDRAWN, subject: `certificate:${serial}`, body: { serial, unitId, tag, reason, again } })
}

/** Those of a unit that were withdrawn, the oldest first. */
export const withdrawnOfUnit = (sight: Sight, unitId: string): WithdrawnFacts[] =>
  listOfUnit(sight.db, unitId)
    .reverse()
    .flatMap(({ serial, withdrawnAt, withdrawnReason, withdrawnChecks, withdrawnSeq }) =>
      withdrawnAt === null
        ? []
        : [{ serial, at: withdrawnAt, reason: withdrawnReason ?? '', again: withdrawnChecks ?? [], seq: withdrawnSeq ?? 0 }],
    )

/** What was signed, read back. */
export function payloadOf(row: CertificateRow): CertificatePayload {
  const bytes = fromBase64url(row.payload)
  const payload = bytes && readPayload(bytes)
  invariant(payload, 'what was signed here can be read back')
  return payload
}

export function stateOf(sight: Sight, row: CertificateRow): CertificateState {
  if (row.withdrawnAt !== null) {
    const { withdrawnAt: at, withdrawnReason: reason, withdrawnChecks: again } = row
    return { is: 'withdrawn', at, reason: reason ?? '', again: again ?? [], by: nextOfUnit(sight.db, row)?.serial ?? null }
  }
  if (row.supersededBy === null) return { is: 'current' }
  const later = findById(sight.db, row.supersededBy)
  invariant(later, 'what supersedes a certificate is a certificate')
  return { is: 'superseded', by: later.serial, at: later.issuedAt }
}
