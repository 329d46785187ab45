import type { Minor } from '#kernel/money'
import type { MyBids } from '#sale/bidding/bidding.contract'
import type { MySale } from './invoices.contract'

/**
 * The most that everything can cost somebody today: what their bids can come to, and of what they bought the price and postage
 * that stand, which is nothing for a sale that fell through. Lots of an either-or are counted with it.
 */
export function mostOfAll(
  {
    lots,
    mostMinor,
  }: Pick<MyBids, 'mostMinor'> & { lots: readonly Pick<MyBids['lots'][number], 'number' | 'mostMinor' | 'isInEitherOr'>[] },
  sales: readonly MySale[],
): Minor {
  const byLot = new Map(lots.map((lot) => [lot.number, lot]))
  return sales.reduce((sum, { lot, priceMinor, postageMinor }) => {
    const bid = byLot.get(lot)
    return bid?.isInEitherOr ? sum : sum + priceMinor + postageMinor - (bid?.mostMinor ?? 0)
  }, mostMinor)
}
