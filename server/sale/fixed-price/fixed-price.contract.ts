import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'

/** `over`: its last day passed and nobody had said yes. */
export type FixedPriceEnd = 'taken' | 'taken back' | 'over'

/** What the contract says, as it stood when the price was set. Who says yes, and what postage is to where they are, comes with the yes. */
export interface FixedPriceTerms {
  title: string
  unit: string
  seller: string
  sellerKind: string
  cause: string
  shareBp: number
  cancelWords: string
  dueDays: number
}

/** A lot that can be had at a fixed price by whoever says yes first, or that went so, as anybody may know it. */
export type FixedPrice =
  | {
      is: 'to be had'
      priceMinor: Minor
      /** `2027-04-12`; null where it stands until it is taken back. */
      lastDay: string | null
    }
  | { is: 'sold'; priceMinor: Minor; soldAt: Instant }
