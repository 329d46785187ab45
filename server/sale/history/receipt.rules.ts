import { hexToBytes } from '@noble/hashes/utils.js'
import { openNote } from './checkpoint.rules'
import type { Receipt } from './history.contract'
import { commitmentTo, hashOfLeaf } from './ledger.rules'
import { isIncluded } from './merkle.rules'

/**
 * What a bidder's browser checks before it says "taken": that the entry commits to what was said, and that the signed
 * head holds the entry. The fault in words, or null. The signature is verified beside this, with the house's key.
 */
export function faultOfReceipt({ leaf, index, size, path, checkpoint, opening }: Receipt, maximumMinor: number): string | null {
  if (leaf.kind !== 'bid' || leaf.alias !== opening.alias || leaf.sequence !== opening.sequence)
    return 'The entry in the history is not yours.'
  if (opening.amountMinor !== maximumMinor || leaf.commitment !== commitmentTo(opening))
    return 'The entry commits to another amount than you wrote.'
  const note = openNote(checkpoint)
  if (!note || note.head.size !== size) return 'The head of the history cannot be read.'
  return isIncluded({ index, size, leaf: hashOfLeaf(leaf), path: path.map(hexToBytes) }, note.head.root)
    ? null
    : 'The signed head of the history does not hold your entry.'
}
