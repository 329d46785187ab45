import type { z } from 'zod'
import { hasGoodCheckCharacter } from '#kernel/ids'
import { Refusal } from '#kernel/refusal'
import { qrPath } from '#paper/qr'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { openFaultTitle } from '../faults/found.service'
import { loadUnit } from '../units/unit-state.service'
import type { CertificatePayload, CertificateState, issueIn, SignedCertificate } from './certificates.contract'
import { departuresOf, type Gap, gapsBeforeIssue } from './certificates.rules'
import { type CertificateRow, findBySerial } from './certificates.store'
import { issueFromFacts } from './issue.service'
import { flattened } from './jws.rules'
import { unitRecord } from './record.service'
import { signatureHolds } from './signature'
import { currentCertificate, endByWithdrawal, payloadOf, type Standing, stateOf } from './standing.service'

/** Issues the certificate of a unit, or answers with the standing one when nothing has changed since. */
export function issueCertificate(turn: Turn, actor: Actor, { tag, confirmFault = false }: z.output<typeof issueIn>): Standing {
  const facts = unitRecord(turn, tag)
  const fault = openFaultTitle(turn, loadUnit(turn, tag))
  if (fault !== null && !confirmFault && gapsBeforeIssue(facts).length === 0) {
    const words = `A fault of ${facts.tag} is open: ${fault}. Close it first, or say that it is certified with that fault open.`
    throw Refusal.at('confirmFault', words, 'gate-closed')
  }
  const { serial, issuedAt } = issueFromFacts(turn, actor, { unitId: facts.unitId, facts })
  return { serial, issuedAt }
}

/** Ends the one of this serial, with a reason that stands on its page from then on; refused when it no longer stands. */
export function endCertificate(
  turn: Turn,
  { serial, reason, checks }: { serial: string; reason: string; checks: string },
): Standing & { unitId: string } {
  const row = getRow(turn, serial)
  const state = stateOf(turn, row)
  if (state.is !== 'current') throw new Refusal('conflict', `${row.serial} no longer stands: it was ${state.is} before.`)
  endByWithdrawal(turn, row, { reason, checks: checksNamed(turn, row, checks) })
  return { serial: row.serial, issuedAt: row.issuedAt, unitId: row.unitId }
}

/** The checks that are written in the field, each of which must be one that the certificate has a reading of. */
function checksNamed(sight: Sight, row: CertificateRow, written: string): string[] {
  const { item, results } = payloadOf(row)
  const known = new Set([...results.map(({ check }) => check), ...loadUnit(sight, item.tag).design.checks.map(({ key }) => key)])
  const named = written
    .toUpperCase()
    .split(/[\s,;]+/)
    .filter(Boolean)
  const unknown = named.find((key) => !known.has(key))
  if (unknown !== undefined)
    throw Refusal.at(
      'checks',
      `${item.tag} has no check ${unknown.slice(0, 24)}. Write them as they stand in the checklist, such as ${results[0]?.check}.`,
    )
  return named
}

export interface CertificateView {
  serial: string
  state: CertificateState
  kid: string
  /** False when what is stored no longer fits its signature: somebody changed the database. */
  isIntact: boolean
  payload: CertificatePayload
  signed: SignedCertificate
  address: string
  qr: { size: number; path: string }
  zone: string
}

/** Everything the page of a certificate shows. Refuses what was never issued, and says so apart when the serial has a slip in it. */
export function certificateOf(sight: Sight, serial: string): CertificateView {
  const row = getRow(sight, serial)
  const payload = payloadOf(row)
  const address = sight.publicUrl + payload.links.certificate
  return {
    serial: row.serial,
    state: stateOf(sight, row),
    kid: row.kid,
    isIntact: signatureHolds(flattened(row), sight.keys.jwks()),
    payload,
    signed: flattened(row),
    address,
    qr: qrPath(address),
    zone: getCampaign(sight).zone,
  }
}

/** The same for an address that machines read; null for what was never issued. */
export function findCertificate(
  sight: Sight,
  serial: string,
): { row: CertificateRow; payload: CertificatePayload; state: CertificateState } | null {
  const row = findBySerial(sight.db, serial.toUpperCase())
  return row && { row, payload: payloadOf(row), state: stateOf(sight, row) }
}

function getRow(sight: Sight, written: string): CertificateRow {
  const serial = written.trim().toUpperCase()
  const row = findBySerial(sight.db, serial)
  if (row) return row
  if (/^TS-\d{4}-\d{4,}-[0-9A-Z]$/.test(serial) && !hasGoodCheckCharacter(serial)) {
    throw new Refusal('not-found', `${serial} has a slip in it: its last character does not match the rest. Check it again.`)
  }
  throw new Refusal('not-found', 'No certificate has that serial. One looks like TS-2027-0147-M.')
}

/** For the bench: what is missing before a unit may be certified, and what stands now. */
export function readinessOf(
  sight: Sight,
  { tag }: { tag: string },
): { tag: string; gaps: Gap[]; standing: Standing | null; checks: number; departures: string[]; fault: string | null } {
  const facts = unitRecord(sight, tag)
  return {
    tag: facts.tag,
    gaps: gapsBeforeIssue(facts),
    standing: currentCertificate(sight, facts.unitId),
    checks: facts.checks.length,
    departures: departuresOf(facts),
    fault: openFaultTitle(sight, loadUnit(sight, tag)),
  }
}
