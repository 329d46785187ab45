import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { DayClose, DayPoint } from './day.rules'
import type { Forecast } from './forecast.rules'
import type { CostAbout, CostBearer, EntryKind, Posting } from './journal.rules'
import type { LotMoneyState } from './lot-account.rules'
import type { MatchBase } from './matching.rules'
import type { BatchPart, HourPart, MachinePart } from './pictures.rules'
import type { Proceeds } from './proceeds.rules'

/** What the meter shows; a live frame and `/proceeds.json` carry the same. */
export interface Meter extends Proceeds {
  currency: Currency
  causeName: string
  causeShareBp: number
  lots: { open: number; sold: number; unsold: number; fellThrough: number }
}

/** One lot that a hammer fell on, as the treasurer sees it. */
export interface SoldLot {
  number: number
  title: string
  unit: string
  state: LotMoneyState
  /** By the contract that was made last. */
  buyer: string
  buyerPersonId: string | null
  paddle: number | null
  reference: string
  /** What the hammer fell at, whatever became of it later. */
  fellAtMinor: Minor
  /** The price that stands now: nought once the sale fell through. */
  hammerMinor: Minor
  causeMinor: Minor
  postageMinor: Minor
  receivedMinor: Minor
  owedMinor: Minor
  closedAt: Instant | null
}

export interface JournalLine {
  id: string
  at: Instant
  valueOn: string
  kind: EntryKind
  memo: string
  reference: string
  lot: number | null
  by: string | null
  /** What this one takes back, and what takes this one back. */
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
  /** A lot gave it up: it is owed back to its buyer. */
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

/** A promise of matched giving, with what it comes to now. */
export interface PromiseLine {
  id: string
  from: string
  base: MatchBase
  ratioBp: number
  capMinor: Minor
  endedAt: Instant | null
  endedWhy: string
  /** For standing bids; for what is won; sent by the matcher. Each penny in one of them. */
  bidMinor: Minor
  wonMinor: Minor
  receivedMinor: Minor
  /** What the matcher can be asked for now, a part of `wonMinor`. */
  dueMinor: Minor
  isCapped: boolean
}

/** Where the money came from, and what the batch cost against what it raised. Amounts for the cause unless told otherwise. */
export interface MoneyPictures {
  currency: Currency
  zone: string
  machines: MachinePart[]
  hours: HourPart[]
  batches: BatchPart[]
  /** Costs and fees for no single batch. */
  sharedCostMinor: Minor
}

export interface ForecastFrame extends Forecast {
  currency: Currency
  targetMinor: Minor
  /** Lots that are still drafts and are not reckoned with. */
  drafts: number[]
}

/** The stream day as steps; a live frame carries the whole of it. */
export interface DayFrame {
  currency: Currency
  zone: string
  targetMinor: Minor
  fromAt: Instant
  toAt: Instant
  /** When it was made. */
  at: Instant
  points: DayPoint[]
  closes: DayClose[]
}

/** The account given to the cause, in its first form. */
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
