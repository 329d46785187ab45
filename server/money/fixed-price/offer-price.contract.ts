import { z } from 'zod'
import type { Currency, Minor } from '#kernel/money'
import { formKey, sha256In, text } from '#kernel/text'
import type { FixedPriceTerms } from '#sale/fixed-price/fixed-price.contract'

const key = formKey()
const lot = z.int('Choose a lot.').positive('Choose a lot.')

export const setPriceIn = z.strictObject({
  key,
  lot,
  amount: text(40, 'That is too long for an amount.'),
  /** `2027-04-12`, or nothing: it stands until it is taken back. */
  lastDay: text(20, 'Write a day such as 2027-04-12, or leave it empty.'),
  cancelWords: text(2000, 'Use at most 2000 characters here.').min(
    1,
    'Say how a buyer can cancel. What must be offered depends on the country and the seller.',
  ),
})
export type SetPriceIn = z.infer<typeof setPriceIn>
export const takePriceBackIn = z.strictObject({ key, lot })
export type TakePriceBackIn = z.infer<typeof takePriceBackIn>
const LOOK_AGAIN = 'Reload the page and look at the price again.'
/** `priceMinor` is the price that was read, and `seen` all that a yes says yes to: if either is another by now, nothing is bought. */
export const takeAtPriceIn = z.strictObject({
  key,
  lot,
  priceMinor: z.int(LOOK_AGAIN).positive(LOOK_AGAIN),
  seen: sha256In(LOOK_AGAIN),
})
export type TakeAtPriceIn = z.infer<typeof takeAtPriceIn>
export const priceOfIn = z.strictObject({ lot })

/** A lot that has ended and that nobody has, for whoever may set its price. */
export interface PriceDesk {
  lot: number
  title: string
  currency: Currency
  /** Why no price can be set now, in words; null where one can. */
  whyNot: string | null
  standing: { priceMinor: Minor; lastDay: string | null } | null
  /** What a form begins with. */
  cancelWords: string
}

/** What can be had, with what the contract says, for anybody. */
export interface PriceView {
  lot: number
  priceMinor: Minor
  currency: Currency
  lastDay: string | null
  terms: FixedPriceTerms
}

/** What it would cost its reader, and what keeps them from it. */
export interface MyPrice {
  /** They said yes first, and the sale stands. */
  isMine: boolean
  barred: string | null
  lacksPaddle: boolean
  postageMinor: Minor
  country: string
  /** Names what a yes says yes to: price, postage and what the contract says. Empty where it cannot be had. */
  seen: string
}
