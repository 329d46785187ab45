import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import { openNote } from './checkpoint.rules'
import type { ConsistencyProof, Leaf, Receipt } from './history.contract'
import { commitmentTo, hashOfLeaf } from './ledger.rules'
import { isConsistent, isIncluded } from './merkle.rules'

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

/** The same for one that was kept: what it opens is what it says itself, and its head is of the lot that it names. */
export function faultOfKept(receipt: Receipt): string | null {
  const { opening, checkpoint } = receipt
  const about = `The receipt of bid ${opening.sequence} on lot ${opening.lot}`
  if (!openNote(checkpoint)?.head.origin.endsWith(`/lots/${opening.lot}`)) return `${about} has the head of another lot.`
  const fault = faultOfReceipt(receipt, opening.amountMinor)
  return fault && `${about} does not hold: ${fault}`
}

/**
 * Where two receipts of one house prove that it showed two histories of a lot, in words: of one size there is one root, and at one
 * place, or under one number of a bid, one entry. That each holds by itself is for the caller.
 */
export function faultTogether(receipts: readonly Receipt[]): string | null {
  const seen = new Map<string, string>()
  for (const { leaf, index, size, checkpoint, opening } of receipts) {
    const head = openNote(checkpoint)?.head
    if (!head) continue
    const own = bytesToHex(hashOfLeaf(leaf))
    const facts = [
      [`head at ${size} entries`, bytesToHex(head.root)],
      [`entry ${index + 1}`, own],
      [`bid ${opening.sequence}`, own],
    ] as const
    for (const [what, hash] of facts) {
      const place = `${what} of ${head.origin}`
      const before = seen.get(place) ?? hash
      if (before !== hash)
        return `Two receipts show two different histories at the ${place}. Both are signed, and only one can be true: keep the file, and tell others.`
      seen.set(place, hash)
    }
  }
  return null
}

/**
 * Holds the maximum of a bid against all that its lot's entries say while it counted, which is until its bidder bid again or was voided.
 * Whoever leads pays no more than their maximum, and exactly that where it capped the price; under another's lead the price is not below
 * it. What does not fit, in words, or null. Nobody but its owner can find this while the maximum is sealed.
 */
export function faultOfOwn({ alias, sequence, amountMinor }: Receipt['opening'], leaves: readonly Leaf[]): string | null {
  const first = leaves.findIndex((leaf) => leaf.kind === 'bid' && leaf.alias === alias && leaf.sequence === sequence)
  if (first < 0) return null
  for (const leaf of leaves.slice(first)) {
    const isEnd = leaf.kind === 'voided' ? leaf.alias === alias : leaf.kind === 'bid' && leaf.alias === alias && leaf.sequence > sequence
    if (isEnd) return null
    if (leaf.kind !== 'bid' && leaf.kind !== 'voided' && leaf.kind !== 'closed') continue
    const price = leaf.kind === 'closed' ? leaf.hammerMinor : leaf.standingMinor
    if (price === null || leaf.leader === null) continue
    const isLeading = leaf.leader === alias
    const isCap = isLeading && 'why' in leaf && leaf.why === 'cap'
    if (isLeading ? price <= amountMinor && (!isCap || price === amountMinor) : price >= amountMinor) continue
    const said = `the entry of ${leaf.at} says that ${leaf.leader} leads at ${price}`
    return `Bid ${sequence} allowed ${amountMinor}, and ${said}${isCap ? ' since that was the most that was allowed' : ''} (in the smallest unit of the currency).`
  }
  return null
}

/**
 * Whether the newest head of a lot continues the heads of receipts that were kept (RFC 9162, section 2.1.4.2). What contradicts
 * them, in words, or null. That the newest head is signed is for the caller.
 */
export function faultOfContinuing(receipts: readonly Receipt[], { lot, size, checkpoint, proofs }: ConsistencyProof): string | null {
  const newest = openNote(checkpoint)
  if (!newest || newest.head.size !== size) return `The newest head of lot ${lot} cannot be read.`
  for (const receipt of receipts) {
    const kept = openNote(receipt.checkpoint)
    const proof = proofs.find(({ from }) => from === receipt.size)
    const about = `the head of your receipt of bid ${receipt.opening.sequence} on lot ${receipt.opening.lot}`
    if (!kept || kept.head.origin !== newest.head.origin || !proof) return `The house does not show that its history continues ${about}.`
    if (!isConsistent({ from: receipt.size, size, path: proof.path.map(hexToBytes) }, kept.head.root, newest.head.root))
      return `The history that the house shows now does not continue ${about}. It is another history than you were shown. Keep the receipts, and tell others.`
  }
  return null
}
