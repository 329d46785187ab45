import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import type { Sight } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { checkTree } from '../history/check-history.rules'
import { openNote } from '../history/checkpoint.rules'
import type { History, Leaf } from '../history/history.contract'
import { readHistory, readLeaves } from '../history/history.service'
import { commitmentTo, reserveCommitmentTo } from '../history/ledger.rules'
import { rootOfPeaks } from '../history/merkle.rules'
import { factOf } from '../history/play-again.rules'
import { type LotState, replay } from '../history/replay.rules'
import { getLotRow, type LotRow } from '../lots/lots.service'
import type { PriceTerms } from '../price/price.rules'
import { type BidRow, listBidsOfLot } from './bids.service'
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
    if (!growsFrom(row, history)) return 'The head that it keeps, from which it grows, is not the last that was signed.'
    const { id, terms, reserve } = row
    const [first] = history.leaves
    if (first?.kind !== 'opened' || termsOf(first.terms) !== (terms && termsOf(terms)))
      return 'Its terms are not those that it opened with.'
    if (first.reserveCommitment !== (reserve && reserveCommitmentTo(number, reserve.amountMinor, reserve.nonce)))
      return 'Its reserve is not the one that was committed to when it opened.'
    const people = new Map(listAliases(sight, id).map(({ alias, personId }) => [alias, personId]))
    if (row.leaderAlias !== null && people.get(row.leaderAlias) !== row.leaderPersonId)
      return 'Who leads it is not the person whose bid does.'
    const bids = listBidsOfLot(sight, id)
    const fault = faultOf(bids, { number, leaves: history.leaves, people })
    if (fault !== null) return fault
    return leadsToWhatIsKept(sight, row, history.leaves, bids) ? null : 'What is kept of its bids is not what its history leads to.'
  } catch (reason) {
    // A seal that does not open, an entry that is no entry, a row that is gone: whatever it was, no price can be struck.
    return `It cannot be read: ${reason instanceof Error ? reason.message : String(reason)}`
  }
}

/** Whether an entry may be put behind those that a lot has: its head is signed for good, so it has to be right. */
export function canGrow(sight: Sight, number: number): boolean {
  try {
    const history = readHistory(sight, number)
    return checkTree(history).isSound && growsFrom(getLotRow(sight, number), history)
  } catch {
    return false
  }
}

/** Whether the next entry would be put where the history ends, and under the hashes that lead to its last head. */
function growsFrom({ ledgerSize, headHash, ledgerPeaks }: LotRow, { leaves, heads }: History): boolean {
  const note = openNote(heads.at(-1)?.checkpoint ?? '')
  if (!note || ledgerSize !== leaves.length || headHash !== bytesToHex(note.head.root)) return false
  const ofSize = [...ledgerSize.toString(2)].filter((bit) => bit === '1').length
  return ledgerPeaks.length === ofSize && bytesToHex(rootOfPeaks(ledgerPeaks.map(hexToBytes))) === headHash
}

/** In what the bids that are kept are not those of the entries, in words. */
function faultOf(
  bids: readonly BidRow[],
  { number, leaves, people }: { number: number; leaves: readonly Leaf[]; people: ReadonlyMap<string, string> },
): string | null {
  const commitments = new Map(leaves.flatMap((leaf) => (leaf.kind === 'bid' ? [[leaf.sequence, leaf.commitment]] : [])))
  const another = bids.find(({ alias, personId }) => people.get(alias) !== personId)
  if (another) return `Bid ${another.sequence} is not kept for the person behind its alias.`
  const other = bids.find(
    ({ sequence, alias, maximumMinor: amountMinor, nonce }) =>
      commitments.get(sequence) !== commitmentTo({ lot: number, alias, sequence, amountMinor, nonce }),
  )
  if (other) return `The maximum of bid ${other.sequence} is not the one that its entry committed to.`
  return bids.length === commitments.size ? null : `${commitments.size} bids stand in its history, and ${bids.length} are kept.`
}

/** What a price is struck by, and what is sold at it: the words, the extras and the postage. */
const termsOf = ({ currency, openingMinor, ladder, sale }: Omit<PriceTerms, 'reserveMinor'> & { sale: object }): string =>
  canonicalize({ currency, openingMinor, ladder, sale: JSON.parse(JSON.stringify(sale)) }) ?? ''

/** True when what is kept of a lot for speed is what its whole history leads to. */
export function isKeptRight(sight: Sight, number: number): boolean {
  const row = getLotRow(sight, number)
  return row.ledgerSize === 0 || leadsToWhatIsKept(sight, row, readLeaves(sight, row.id), listBidsOfLot(sight, row.id))
}

function leadsToWhatIsKept(sight: Sight, row: LotRow, leaves: readonly Leaf[], bids: readonly BidRow[]): boolean {
  const { state } = openedLot(sight, row)
  const maxima = new Map(bids.map(({ sequence, maximumMinor }) => [sequence, maximumMinor]))
  const facts = leaves.flatMap((leaf) => factOf(leaf, ({ sequence }) => maxima.get(sequence) ?? 0) ?? [])
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
  return said(again) === said(state) && said(again) === said(loadOpenedLot(sight, row.number).state)
}
