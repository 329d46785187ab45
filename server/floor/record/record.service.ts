import type { CertificateState } from '#bench/certificates/certificates.contract'
import type { PublicRecord } from '#bench/certificates/public-record.rules'
import { certifiedRecord } from '#bench/certificates/record.service'
import { certificatesOfUnit, type Standing } from '#bench/certificates/standing.service'
import type { ShownSpent } from '#bench/spent/spent.contract'
import { shownSpent } from '#bench/spent/spent.service'
import type { EvidenceView } from '#bench/units/evidence.contract'
import { evidenceViews } from '#bench/units/evidence.service'
import { loadUnit } from '#bench/units/unit-state.service'
import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { findLotOfUnit, getPhotographs } from '#sale/lots/lots.service'
import { progressOf } from '../rack/rack.service'

export interface RecordView {
  record: PublicRecord
  standing: Standing | null
  /** All that were ever issued for the unit, the newest first. */
  history: (Standing & { state: CertificateState })[]
  /** The lot it is sold as, once that is shown to anybody. */
  lot: { number: number; title: string; photographs: { sha: string; caption: string }[] } | null
  /** What was chosen of the evidence, with what is drawn of it; by whom it was kept stays at the bench. */
  evidence: Omit<EvidenceView, 'by' | 'isShown'>[]
  /** Hours and parts, where the maker chose that everybody may read of them. */
  spent: ShownSpent | null
  reached: number
  now: Instant
  zone: string
}

/** What anybody may read about a unit: its tests, its certificates, its lot, and how far it has come. */
export function recordOf(sight: Sight, { tag }: { tag: string }): RecordView {
  const state = loadUnit(sight, tag)
  const { id } = state.unit
  const card = findLotOfUnit(sight, id)
  const lot = card && card.state !== 'draft' ? card : null
  return {
    ...certifiedRecord(sight, state),
    history: certificatesOfUnit(sight, id),
    lot: lot && {
      number: lot.number,
      title: lot.title,
      photographs: getPhotographs(sight, lot.id).map(({ sha, caption }) => ({ sha, caption })),
    },
    evidence: evidenceViews(sight, state).flatMap(({ by: _by, isShown, ...piece }) => (isShown ? [piece] : [])),
    spent: shownSpent(sight, id),
    reached: progressOf(sight, state),
    now: sight.now,
    zone: getCampaign(sight).zone,
  }
}
