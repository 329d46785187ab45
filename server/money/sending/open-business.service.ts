import { inEveryCampaign } from '#people/campaign/which.service'
import type { Sight } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import { listSoldLots } from '../journal/sold.service'
import { listProblems } from './problem.store'
import { hasArrived } from './sent.service'

/** Whether something is still to be done between a buyer and the house: a lot is not paid, has not arrived, or has a problem that is open. */
export function hasOpenBusiness(sight: Sight, personId: string): boolean {
  const open = new Set(listProblems(sight.db).flatMap(({ lotId, endedAt }) => (endedAt === null ? [lotId] : [])))
  return inEveryCampaign(sight, listSoldLots).some(({ buyerPersonId, number, owedMinor, state }) => {
    if (buyerPersonId !== personId) return false
    const lotId = getLotRow(sight, number).id
    return owedMinor > 0 || open.has(lotId) || (state !== 'fell through' && !hasArrived(sight, lotId))
  })
}
