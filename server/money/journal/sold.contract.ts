import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { LotMoneyState } from './lot-account.rules'

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
  /** The entry of the price of that contract. */
  contractId: string
  /** Under which that contract is paid; contracts of one buyer may share one. */
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
