import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { CostAbout, CostBearer, EntryKind, Posting } from '../journal/journal.rules'
import type { SoldLot } from '../journal/sold.contract'
import type { PromiseLine } from '../matching/matching.contract'
import type { Meter } from '../proceeds/proceeds.contract'

export interface JournalLine {
  id: string
  at: Instant
  valueOn: string
  kind: EntryKind
  memo: string
  reference: string
  lot: number | null
  by: string | null
  /** The entry that this one takes back. `correctedBy` is the one that takes this one back. */
  corrects: { id: string; memo: string } | null
  correctedBy: { id: string; at: Instant } | null
  postings: Posting[]
}

/** Money that came and has no home yet, with what is known of it. */
export interface UnplacedLine {
  entryId: string
  at: Instant
  valueOn: string
  memo: string
  reference: string
  /** The bidder who paid it, where that is known. */
  payer: string | null
  lot: number | null
  /** A lot gave it up, so it is owed back to its buyer. */
  isOwedBack: boolean
  amountMinor: Minor
  leftMinor: Minor
}

export interface CostLine {
  entryId: string
  valueOn: string
  memo: string
  about: CostAbout
  bearer: CostBearer
  isFee: boolean
  lot: number | null
  /** The batch of machines it was for, `TERN`. */
  run: string | null
  amountMinor: Minor
}

/** The sums of the books, as they stand now. */
export interface Statement {
  currency: Currency
  causeName: string
  causeRegistration: string
  at: Instant
  lots: SoldLot[]
  hammerMinor: Minor
  causeShareMinor: Minor
  giftMinor: Minor
  /** Received from matchers; what they still owe stands beside it. */
  matchedMinor: Minor
  matchedDueMinor: Minor
  postageMinor: Minor
  /** What sending really cost, whoever bears it; a part of the costs. */
  sendingCostMinor: Minor
  /** Costs and fees by whose part they came out of. */
  costs: Record<CostBearer, Minor>
  /** Money that went back to those who paid it. */
  refundedMinor: Minor
  /** In the bank without a home, what is owed back included. */
  unplacedMinor: Minor
  receivedMinor: Minor
  unpaidMinor: Minor
  remittedMinor: Minor
  /** Held in the bank for the cause and not yet sent on; below zero, more was sent on than there is. */
  toRemitMinor: Minor
  bankMinor: Minor
  varianceMinor: Minor
  /** Where the variance is, a sentence for each place; empty when it is nought. */
  varianceAt: string[]
}

export interface Books {
  meter: Meter
  statement: Statement
  journal: JournalLine[]
  unplaced: UnplacedLine[]
  costs: CostLine[]
  promises: PromiseLine[]
  /** Batches of machines that a cost can be for. */
  runs: { id: string; words: string }[]
  /** The treasurer writes; the maker reads. */
  mayWrite: boolean
}
