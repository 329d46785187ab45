import { DateTime } from 'luxon'
import { toIso } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { toBase64url } from './base64url.rules'
import { CERTIFICATE_ISSUED, type CertificatePayload } from './certificates.contract'
import { draftCertificate, gapsBeforeIssue, nextSerial } from './certificates.rules'
import { type CertificateRow, findStanding, insertCertificate, lastSerialOf, markSuperseded } from './certificates.store'
import { canonicalText, partsToSign } from './jws.rules'
import type { UnitFacts } from './record.contract'
import { payloadOf, withdrawnOfUnit } from './standing.service'

/**
 * Issues the certificate of a unit from what the bench knows of it, and supersedes the one that stood.
 * Refused with all that is missing. When nothing has changed since the standing one was signed, that one
 * is the answer: a second tap makes no second certificate.
 */
export function issueFromFacts(turn: Turn, actor: Actor, { unitId, facts }: { unitId: string; facts: UnitFacts }): CertificateRow {
  const gaps = gapsBeforeIssue(facts)
  const [first] = gaps
  if (first) {
    const others = gaps.length === 1 ? '' : ` ${gaps.length - 1} more things stand in the way; the unit's page lists them.`
    throw new Refusal('gate-closed', `${facts.tag} cannot be certified yet. ${first.words}${others}`)
  }
  const campaign = getCampaign(turn)
  const missing = campaign.sellerName === '' ? 'who the seller is' : campaign.sellerAddress === '' ? 'the address of the seller' : null
  if (missing)
    throw new Refusal('gate-closed', `The campaign does not say ${missing}, and a certificate must. Fill it in at /bench/campaign.`)
  const year = DateTime.fromMillis(turn.now, { zone: campaign.zone }).year
  const payload = draftCertificate({
    unit: facts,
    issuer: {
      seller: campaign.sellerName,
      sellerAddress: campaign.sellerAddress,
      campaign: campaign.name,
      cause: campaign.causeName || 'the cause named by the campaign',
    },
    serial: nextSerial(year, lastSerialOf(turn.db, year)),
    issuedAt: turn.now,
    home: turn.publicUrl,
  })
  const standing = findStanding(turn.db, unitId)
  if (standing && saysTheSame(standing, payload)) return standing
  const after = standing ? null : (withdrawnOfUnit(turn, unitId).at(-1)?.serial ?? null)
  const parts = partsToSign(payload, turn.keys.kid)
  const row: CertificateRow = {
    id: turn.dice.id(),
    serial: payload.serial,
    unitId,
    issuedAt: turn.now,
    byPersonId: actor.personId,
    kid: turn.keys.kid,
    payload: parts.payload,
    protected: parts.protected,
    signature: toBase64url(turn.keys.sign(parts.bytes)),
    supersededBy: null,
    withdrawnAt: null,
    withdrawnReason: null,
    withdrawnChecks: null,
    withdrawnSeq: null,
  }
  if (standing) markSuperseded(turn.db, standing.id, row.id)
  insertCertificate(turn.db, row)
  turn.record({
    kind: CERTIFICATE_ISSUED,
    subject: `certificate:${row.serial}`,
    body: { serial: row.serial, unitId, tag: facts.tag, supersedes: standing?.serial ?? null, after, at: toIso(turn.now) },
  })
  return row
}

/** True when the standing certificate says, but for its own serial and date, what this draft says. */
function saysTheSame(standing: CertificateRow, draft: CertificatePayload): boolean {
  const signed = payloadOf(standing)
  const { serial, issuedAt, end } = signed
  const links = { ...draft.links, certificate: signed.links.certificate }
  return canonicalText({ ...draft, serial, issuedAt, end, links }) === canonicalText(signed)
}
