import { hexToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import type { Sight } from '#runtime/queue/turn'
import { type AliasRow, listAliases } from '../bidders/aliases.service'
import type { Leaf } from '../history/history.contract'
import { hashOfLeaf } from '../history/ledger.rules'
import { isIncluded } from '../history/merkle.rules'
import { Damaged, lotIdsWithHistory, type WholeHistory, wholeHistory } from '../history/whole-history.service'
import { getLotRow, getLotRowById } from '../lots/lots.service'
import type { BidAnswer } from './bids.contract'
import { answerOf, type BidRow, listBidsOfLot } from './bids.service'
import { damageOf } from './kept-right.service'

/** Where something is not as it was written, and what. */
export interface Damage {
  /** Null where no lot is there for it. */
  lot: number | null
  words: string
}

/** Every lot of which something is kept that belongs to a history, ended ones too: handed over one by one, so that nobody waits for all. */
export function* damageThroughout(sight: Sight): Generator<Damage | null> {
  for (const id of lotIdsWithHistory(sight)) yield damageOfLot(sight, id)
}

function damageOfLot(sight: Sight, id: string): Damage | null {
  let lot: number | null = null
  try {
    lot = numberOf(sight, id)
    const row = getLotRow(sight, lot)
    const history = wholeHistory(sight, row)
    const words =
      damageOf(sight, lot) ?? faultInBids(listBidsOfLot(sight, id), history) ?? faultInVoids(listAliases(sight, id), history.leaves)
    return words === null ? null : { lot, words }
  } catch (reason) {
    const words = reason instanceof Error ? reason.message : String(reason)
    return { lot, words: reason instanceof Damaged || lot === null ? words : `It cannot be read: ${words}` }
  }
}

function numberOf(sight: Sight, id: string): number {
  try {
    return getLotRowById(sight, id).number
  } catch (cause) {
    throw new Damaged(`Rows of a history are kept for a lot that cannot be read (${id}).`, { cause })
  }
}

/** What of the entries is repeated in the rows of its bids: when each arrived, and what its bidder was told. */
function faultInBids(bids: readonly BidRow[], { leaves, heads }: WholeHistory): string | null {
  const places = new Map(leaves.flatMap((leaf, index) => (leaf.kind === 'bid' ? [[leaf.sequence, index] as const] : [])))
  for (const bid of bids) {
    const index = places.get(bid.sequence) ?? -1
    const leaf = leaves[index]
    const where = `Bid ${bid.sequence} (entry ${index + 1})`
    if (leaf?.kind !== 'bid' || bid.at !== Date.parse(leaf.at)) return `${where} is kept with another time than its entry says.`
    if (!isWhatWasTold(bid, leaf, index, heads)) return `${where}: what its bidder was told is not what was signed.`
  }
  return null
}

function isWhatWasTold(bid: BidRow, leaf: Extract<Leaf, { kind: 'bid' }>, index: number, heads: WholeHistory['heads']): boolean {
  const { receipt, ...told } = answerOf(bid)
  const head = heads.get(receipt.size)
  if (!head || receipt.checkpoint !== head.checkpoint || canonicalize(receipt.leaf) !== canonicalize(leaf) || receipt.index !== index)
    return false
  if (told.leads !== (leaf.leader === bid.alias) || told.standingMinor !== leaf.standingMinor) return false
  if (told.closesAt !== Date.parse(leaf.closesAt) || !RESERVES.includes(told.reserve)) return false
  return isIncluded({ index, size: receipt.size, leaf: hashOfLeaf(leaf), path: receipt.path.map(hexToBytes) }, head.root)
}

const RESERVES: readonly string[] = ['none', 'reached', 'unreached'] satisfies BidAnswer['reserve'][]

/** Whose bids count no more stands in the entries as well. */
function faultInVoids(aliases: readonly AliasRow[], leaves: readonly Leaf[]): string | null {
  const voided = new Map(leaves.flatMap((leaf) => (leaf.kind === 'voided' ? [[leaf.alias, Date.parse(leaf.at)] as const] : [])))
  const other = aliases.find(({ alias, voidedAt }) => voidedAt !== (voided.get(alias) ?? null))
  return other ? `Whether the bids of ${other.alias} count is kept otherwise than its entries say.` : null
}
