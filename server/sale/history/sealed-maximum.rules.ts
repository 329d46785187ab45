import { type Minor, MOST_MINOR } from '#kernel/money'
import { type Ladder, mostUnder } from '../price/ladder.rules'
import type { Leaf } from './history.contract'

export type BidLeaf = Extract<Leaf, { kind: 'bid' }>

/**
 * The most that a maximum which stays sealed can have been, from what the entries since its bid say. Whatever an entry says of
 * it sets a bound; a house that told the truth kept to all of them, so the lowest is a maximum with which all comes out again.
 *
 * While its bidder leads, `cap` says exactly what it was. While another leads, it was no more than that one's maximum, and less
 * where it came first; and where a step over somebody's maximum, or the reserve over that, made the price, it was no more than
 * what leads to that price.
 */
export function sealedMaximum(
  { alias, sequence }: BidLeaf,
  leaves: readonly Leaf[],
  ladder: Ladder,
  maximumOf: (bid: BidLeaf) => Minor,
): Minor {
  const last = new Map<string, BidLeaf>()
  let most: Minor = MOST_MINOR
  for (const leaf of leaves) {
    if (leaf.kind === 'bid') last.set(leaf.alias, leaf)
    if ((leaf.kind !== 'bid' && leaf.kind !== 'voided') || leaf.leader === null || (last.get(alias)?.sequence ?? 0) < sequence) continue
    const standing = leaf.standingMinor ?? 0
    const leading = last.get(leaf.leader)
    if (leaf.leader === alias) {
      if (leaf.why === 'cap') most = Math.min(most, standing)
    } else if (leading) {
      most = Math.min(most, maximumOf(leading) - (sequence < leading.sequence ? 1 : 0))
      if (leaf.why === 'second') most = Math.min(most, mostUnder(ladder, standing))
      if (leaf.why === 'reserve') most = Math.min(most, mostUnder(ladder, standing - 1))
    }
  }
  return most
}
