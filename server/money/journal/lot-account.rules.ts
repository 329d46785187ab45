import type { Instant } from '#kernel/instant'
import { type Minor, splitMoney } from '#kernel/money'
import type { Account, EntryKind, Posting } from './journal.rules'

/** An entry as the rules see it. A correction bears the kind of what it corrects, so sums by kind stay true. */
export interface JournalEntry {
  id: string
  at: Instant
  kind: EntryKind
  lotId: string | null
  correctsId: string | null
  placesId: string | null
  promiseId: string | null
  postings: readonly Posting[]
}

/** Where the money of one lot stands: each part of the cause's share is in exactly one of three states. */
export interface LotAccount {
  lotId: string
  /** What the hammer fell at, whatever became of it later; nought where none did. */
  fellAtMinor: Minor
  /** The price that stands now: nought once the sale fell through, less after a reduction. */
  hammerMinor: Minor
  causeMinor: Minor
  sellerMinor: Minor
  postageMinor: Minor
  receivedMinor: Minor
  /** Still to be paid by the buyer, postage included. */
  owedMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
  remittedMinor: Minor
}

export type LotMoneyState = 'won' | 'part paid' | 'paid' | 'remitted' | 'fell through'

export function lotMoneyState(account: LotAccount): LotMoneyState {
  if (account.hammerMinor === 0) return 'fell through'
  if (account.owedMinor > 0) return account.receivedMinor > 0 ? 'part paid' : 'won'
  return account.causeMinor > 0 && account.remittedMinor === account.causeMinor ? 'remitted' : 'paid'
}

export const PRICE_KINDS: readonly EntryKind[] = ['hammer', 'resale', 'reversal', 'reduction']
const RECEIPT_KINDS: readonly EntryKind[] = ['payment', 'refund', 'release']

/** A part payment covers postage first, then the price, of which the cause has its share. What is sent on is told elsewhere. */
export function accountOf(lotId: string, entries: readonly JournalEntry[]): LotAccount {
  const mine = entries.filter((entry) => entry.lotId === lotId)
  const isPrice = ({ kind }: JournalEntry) => PRICE_KINDS.includes(kind)
  const causeMinor = 0 - sumOf(mine, 'owed-to-cause', isPrice)
  const sellerMinor = 0 - sumOf(mine, 'kept-by-seller', isPrice)
  const postageMinor = 0 - sumOf(mine, 'postage')
  const receivedMinor = 0 - sumOf(mine, 'owed-by-buyers', ({ kind }) => RECEIPT_KINDS.includes(kind))
  const hammerMinor = causeMinor + sellerMinor
  const hammerPaid = Math.min(hammerMinor, Math.max(0, receivedMinor - postageMinor))
  const paidMinor = hammerMinor > 0 ? (splitMoney(hammerPaid, [causeMinor, sellerMinor])[0] ?? 0) : 0
  return {
    lotId,
    fellAtMinor: sumOf(mine, 'owed-by-buyers', ({ kind }) => kind === 'hammer'),
    hammerMinor,
    causeMinor,
    sellerMinor,
    postageMinor,
    receivedMinor,
    owedMinor: sumOf(mine, 'owed-by-buyers'),
    wonMinor: causeMinor - paidMinor,
    paidMinor,
    remittedMinor: 0,
  }
}

export function sumOf(entries: readonly JournalEntry[], account: Account, which: (entry: JournalEntry) => boolean = () => true): Minor {
  let sum = 0
  for (const entry of entries) {
    if (!which(entry)) continue
    for (const posting of entry.postings) if (posting.account === account) sum += posting.amountMinor
  }
  return sum
}
