import { createHash } from 'node:crypto'
import { toIso } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import { getUnitRow } from '../units/roster.service'
import { toBase64url } from './base64url.rules'
import type { SignedCertificate } from './certificates.contract'
import { type CertificateRow, findBySerial, listAll } from './certificates.store'
import { partsToSign } from './jws.rules'
import { stateOf } from './standing.service'
import type { CertificateStatus, StandingPayload } from './status.contract'
import { draftStanding } from './status.rules'

/** How one certificate stands now, signed; null for what was never issued. */
export function signedStatus(sight: Sight, serial: string): SignedCertificate | null {
  const row = findBySerial(sight.db, serial.toUpperCase())
  return row && signed(sight, 'one', [row])
}

/** How every certificate that was ever issued stands now, signed: one file that answers for all of them, without asking the house. */
export const signedList = (sight: Sight): SignedCertificate => signed(sight, 'all', listAll(sight.db))

function signed(sight: Sight, covers: StandingPayload['covers'], rows: readonly CertificateRow[]): SignedCertificate {
  const { now, publicUrl: home, keys } = sight
  const payload = draftStanding({ covers, certificates: rows.map((row) => statusOf(sight, row)), now, home })
  const { bytes, ...parts } = partsToSign(payload, keys.kid)
  return { payload: parts.payload, protected: parts.protected, signature: toBase64url(keys.sign(bytes)) }
}

function statusOf(sight: Sight, row: CertificateRow): CertificateStatus {
  const state = stateOf(sight, row)
  const of = { serial: row.serial, unit: getUnitRow(sight, row.unitId).tag, issuedAt: toIso(row.issuedAt), document: digestOf(row) }
  if (state.is === 'current') return { ...of, is: 'current' }
  const at = toIso(state.at)
  if (state.is === 'superseded') return { ...of, is: 'superseded', at, by: state.by }
  return { ...of, is: 'withdrawn', at, reason: state.reason, again: state.again, by: state.by }
}

const digestOf = ({ payload }: CertificateRow): string => createHash('sha256').update(Buffer.from(payload, 'base64url')).digest('hex')
