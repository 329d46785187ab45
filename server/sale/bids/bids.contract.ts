import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { Receipt } from '../history/history.contract'
import type { ReserveState } from '../price/price.rules'

/** What a bidder is told once their bid is taken. */
export interface BidAnswer {
  lot: number
  alias: string
  maximumMinor: Minor
  leads: boolean
  standingMinor: Minor
  reserve: ReserveState
  closesAt: Instant
  receipt: Receipt
}
