import { getCampaign } from '#people/campaign/campaign.service'
import { inEveryCampaign } from '#people/campaign/which.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listSoldLots } from '../journal/sold.service'
import type { Basket } from './invoices.contract'
import { invoiceOf } from './invoices.service'

/** What a buyer has still to pay, of every lot that they won, and what it comes to; the books stay by lot. */
export function readBasket(sight: Sight, { personId }: Actor): Basket {
  const owing = (seen: Sight) =>
    listSoldLots(seen)
      .filter(({ buyerPersonId, owedMinor }) => buyerPersonId === personId && owedMinor > 0)
      .map((sold) => {
        const { lot, title, owedMinor, reference, dueOn, daysLate } = invoiceOf(seen, sold)
        return { lot, title, owedMinor, reference, dueOn, daysLate }
      })
  const lots = inEveryCampaign(sight, owing).sort((a, b) => a.dueOn.localeCompare(b.dueOn) || a.lot - b.lot)
  return { lots, currency: getCampaign(sight).currency, totalMinor: lots.reduce((sum, { owedMinor }) => sum + owedMinor, 0) }
}
