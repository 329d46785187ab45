import { bytesToHex } from '@noble/hashes/utils.js'
import type { History, Opening, Receipt } from '#sale/history/history.contract'
import { hashOfLeaf } from '#sale/history/ledger.rules'
import { type Hash, rootOf } from '#sale/history/merkle.rules'

/** The inclusion path of RFC 6962, section 2.1.1, lowest first. */
function pathOf(index: number, hashes: readonly Hash[]): Hash[] {
  if (hashes.length === 1) return []
  let split = 1
  while (split * 2 < hashes.length) split *= 2
  const [left, right] = [hashes.slice(0, split), hashes.slice(split)]
  return index < split ? [...pathOf(index, left), rootOf(right)] : [...pathOf(index - split, right), rootOf(left)]
}

/** The receipt of a bid, as its bidder was given it: with the first head that covers it. */
export function receiptOf({ leaves, heads, lot }: History, opening: Opening): Receipt {
  const index = leaves.findIndex((leaf) => leaf.kind === 'bid' && leaf.sequence === opening.sequence)
  const [leaf, head] = [leaves[index], heads.find(({ size }) => size > index)]
  if (!leaf || !head) throw new Error('There is no such bid.')
  const path = pathOf(index, leaves.slice(0, head.size).map(hashOfLeaf)).map(bytesToHex)
  return { leaf, index, size: head.size, path, checkpoint: head.checkpoint, opening: { lot, ...opening } }
}
