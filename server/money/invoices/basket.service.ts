import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listSoldLots } from '../journal/sold.service'
import type { Basket } from './invoices.contract'
import { invoiceOf } from './invoices.service'

/** What a buyer has still to pay, of every lot that they won, and what it comes to; the books stay by lot. */
export function readBasket(sight: Sight, { personId }: Actor): Basket {
  const lots = listSoldLots(sight)
    .filter(({ buyerPersonId, owedMinor }) => buyerPersonId === personId && owedMinor > 0)
    .map((sold) => {
      const { lot, title, owedMinor, reference, dueOn, daysLate } = invoiceOf(sight, sold)
      return { lot, title, owedMinor, reference, dueOn, daysLate }
    })
    .sort((a, b) => a.dueOn.localeCompare(b.dueOn) || a.lot - b.lot)
  return { lots, currency: getCampaign(sight).currency, totalMinor: lots.reduce((sum, { owedMinor }) => sum + owedMinor, 0) }
}
