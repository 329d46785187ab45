import canonicalize from 'canonicalize'
import type { Sight } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { checkTree } from '../history/check-history.rules'
import { readHistory, readLeaves } from '../history/history.service'
import { commitmentTo, reserveCommitmentTo } from '../history/ledger.rules'
import { factOf } from '../history/play-again.rules'
import { type LotState, replay } from '../history/replay.rules'
import { getLotRow } from '../lots/lots.service'
import type { PriceTerms } from '../price/price.rules'
import { listBidsOfLot } from './bids.service'
import { keptOf, loadOpenedLot, openedLot } from './lot-state.service'

/**
 * What is damaged of a lot, in words; null when its entries lead to its signed heads, each maximum is the one that was committed
 * to, and what is kept for speed is what the whole leads to. Asked before a price is struck, since that is for good.
 */
export function damageOf(sight: Sight, number: number): string | null {
  try {
    const history = readHistory(sight, number)
    const tree = checkTree(history)
    if (!tree.isSound) return tree.words
    const row = getLotRow(sight, number)
    const { id, terms, reserve } = row
    const [first] = history.leaves
    if (first?.kind !== 'opened' || termsOf(first.terms) !== (terms && termsOf(terms)))
      return 'Its terms are not those that it opened with.'
    if (first.reserveCommitment !== (reserve && reserveCommitmentTo(number, reserve.amountMinor, reserve.nonce)))
      return 'Its reserve is not the one that was committed to when it opened.'
    const people = new Map(listAliases(sight, id).map(({ alias, personId }) => [alias, personId]))
    if (row.leaderAlias !== null && people.get(row.leaderAlias) !== row.leaderPersonId)
      return 'Who leads it is not the person whose bid does.'
    const commitments = new Map(history.leaves.flatMap((leaf) => (leaf.kind === 'bid' ? [[leaf.sequence, leaf.commitment]] : [])))
    const bids = listBidsOfLot(sight, id)
    const other = bids.find(
      ({ sequence, alias, maximumMinor: amountMinor, nonce }) =>
        commitments.get(sequence) !== commitmentTo({ lot: number, alias, sequence, amountMinor, nonce }),
    )
    const another = bids.find(({ alias, personId }) => people.get(alias) !== personId)
    if (another) return `Bid ${another.sequence} is not kept for the person behind its alias.`
    if (other) return `The maximum of bid ${other.sequence} is not the one that its entry committed to.`
    if (bids.length !== commitments.size) return `${commitments.size} bids stand in its history, and ${bids.length} are kept.`
    return isKeptRight(sight, number) ? null : 'What is kept of its bids is not what its history leads to.'
  } catch (reason) {
    // A seal that does not open, an entry that is no entry, a row that is gone: whatever it was, no price can be struck.
    return `It cannot be read: ${reason instanceof Error ? reason.message : String(reason)}`
  }
}

/** What a price is struck by, and what is sold at it: the words, the extras and the postage. */
const termsOf = ({ currency, openingMinor, ladder, sale }: Omit<PriceTerms, 'reserveMinor'> & { sale: object }): string =>
  canonicalize({ currency, openingMinor, ladder, sale: JSON.parse(JSON.stringify(sale)) }) ?? ''

/** True when what is kept of a lot for speed is what its whole history leads to. */
export function isKeptRight(sight: Sight, number: number): boolean {
  const row = getLotRow(sight, number)
  if (row.ledgerSize === 0) return true
  const { state } = openedLot(sight, row)
  const maxima = new Map(listBidsOfLot(sight, row.id).map(({ sequence, maximumMinor }) => [sequence, maximumMinor]))
  const facts = readLeaves(sight, row.id).flatMap((leaf) => factOf(leaf, ({ sequence }) => maxima.get(sequence) ?? 0) ?? [])
  const again = replay(state.terms, facts)
  const said = (one: LotState) =>
    JSON.stringify({
      ...keptOf(one),
      phase: one.phase,
      heldSince: one.heldSince,
      maxima: [one.leader?.maximumMinor, one.second?.maximumMinor],
    })
  const kept = keptOf(again)
  const inRow = Object.fromEntries(Object.keys(kept).map((field) => [field, row[field as keyof typeof kept]]))
  if (JSON.stringify(inRow) !== JSON.stringify(kept)) return false
  return said(again) === said(state) && said(again) === said(loadOpenedLot(sight, number).state)
}
