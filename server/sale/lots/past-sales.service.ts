import { getDesign } from '#bench/designs/designs.service'
import { listEarlier } from '#bench/earlier/earlier.service'
import { madeOf } from '#bench/units/roster.service'
import type { Currency } from '#kernel/money'
import { type Spread, spreadOf } from '#kernel/spread'
import { inEveryCampaign } from '#people/campaign/which.service'
import type { Sight } from '#runtime/queue/turn'
import { comesTo } from '../price/result.rules'
import type { LotCard } from './lots.contract'
import { getLotRow, listLots } from './lots.service'

/** What machines of one design were sold for, in minor units. */
export interface PastSales extends Spread {
  design: string
  /** How many of them were sold before this house and are known from a list. */
  before: number
}

/** What a lot that has ended came to, by the hammer or at a fixed price; nought where nobody has it. */
export const soldFor = (lot: LotCard): number => (lot.state === 'open' || lot.state === 'held' ? 0 : comesTo(lot))

/**
 * What others of a lot's design were sold for in any campaign, whatever their revision, and before this house in the same currency.
 * Sales that fell through are left out, and those of other currencies too; null where there was none.
 */
export function readPastSales(sight: Sight, number: number): PastSales | null {
  const { unitId, id } = getLotRow(sight, number)
  const designOf = (unit: string) => getDesign(sight, madeOf(sight, unit).designId)
  const { key, name } = designOf(unitId)
  const lots = inEveryCampaign(sight, listLots)
  const here = lots.filter((lot) => lot.id !== id && soldFor(lot) > 0 && designOf(lot.unitId).key === key)
  const currency: Currency | undefined = lots.find((lot) => lot.id === id)?.currency
  const before = listEarlier(sight).flatMap(({ design, raisedMinor, fate, ...one }) =>
    design.toLowerCase() === name.toLowerCase() && fate === 'sold' && one.currency === currency && raisedMinor ? [raisedMinor] : [],
  )
  const spread = spreadOf([...here.filter((lot) => lot.currency === currency).map(soldFor), ...before])
  return spread && { ...spread, design: name, before: before.length }
}
