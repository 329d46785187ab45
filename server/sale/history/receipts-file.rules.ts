import type { Receipt, ReceiptsFile } from './history.contract'

export const RECEIPTS_NAME = 'receipts.json'

/** All receipts of one bidder as one file, the same whoever writes it: by lot, and in the order in which the bids came. */
export function receiptsFile(receipts: readonly Receipt[]): string {
  const inOrder = receipts.toSorted((a, b) => a.opening.lot - b.opening.lot || a.opening.sequence - b.opening.sequence)
  const content: ReceiptsFile = { kind: 'tagstrip-receipts', version: 1, receipts: inOrder }
  return JSON.stringify(content)
}
