import type { Sight } from '#runtime/queue/turn'
import { getUnitRow } from '../units/roster.service'
import { currentCertificate } from './standing.service'

/** Why a unit cannot be sold as it stands, in words; null where it has a valid certificate and is not set aside. */
export function certificateGap(sight: Sight, { unitId, unitTag }: { unitId: string; unitTag: string }): string | null {
  const { setAsideReason } = getUnitRow(sight, unitId)
  if (setAsideReason !== null) return `${unitTag} is set aside: ${setAsideReason}`
  return currentCertificate(sight, unitId) ? null : `${unitTag} has no valid certificate. Finish its checklist and issue one.`
}
