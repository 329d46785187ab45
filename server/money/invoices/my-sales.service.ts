import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import { listContracts } from '../journal/contracts.service'
import type { MySale } from './invoices.contract'

/** What somebody bought, by the hammer or otherwise, one for each lot: whether it is still theirs, and what it comes to. */
export function readMySales(sight: Sight, { personId }: Actor): MySale[] {
  const { currency } = getCampaign(sight)
  const latest = new Map(
    listContracts(sight)
      .filter((one) => one.personId === personId)
      .map((one) => [one.lot, one]),
  )
  return [...latest.values()].map(({ lot, by, isLast, priceMinor, postageMinor }): MySale => {
    const row = getLotRow(sight, lot)
    const stands = isLast && priceMinor > 0
    return {
      lot,
      title: row.terms?.sale.title ?? row.title,
      unit: row.unitTag,
      by,
      currency,
      stands,
      priceMinor: stands ? priceMinor : 0,
      postageMinor: stands ? postageMinor : 0,
    }
  })
}
