import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { LotMoneyState } from './lot-account.rules'

/** What made a contract of sale: the hammer, an offer to the underbidder that was taken, or a price for whoever said yes first. */
export type SoldBy = 'hammer' | 'underbidder' | 'fixed price'

/** One lot that was sold, as the treasurer sees it. */
export interface SoldLot {
  number: number
  title: string
  unit: string
  state: LotMoneyState
  /** By the contract that was made last. */
  buyer: string
  buyerPersonId: string | null
  paddle: number | null
  /** The entry of the price of that contract. */
  contractId: string
  /** Under which that contract is paid; contracts of one buyer may share one. */
  reference: string
  /** What made that contract. */
  by: SoldBy
  /** What the hammer fell at, whatever became of it later; nought where none did. */
  fellAtMinor: Minor
  /** The price that stands now: nought once the sale fell through. */
  hammerMinor: Minor
  causeMinor: Minor
  /** What its terms promise the cause, in basis points. */
  shareBp: number
  postageMinor: Minor
  receivedMinor: Minor
  owedMinor: Minor
  /** When that contract was made. */
  soldAt: Instant
}
