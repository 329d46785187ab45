import { z } from 'zod'
import type { Minor } from '#kernel/money'
import { idOrNone, text } from '#kernel/text'
import { amount, fromWhom, key, on, reference, type Written, why } from '../journal/entry.contract'
import { COST_ABOUT, COST_BEARERS } from '../journal/journal.rules'

const lot = z.int('Choose a lot.').positive('Choose a lot.')
const ofLot = lot.optional()
const entryId = text(80, 'Choose the entry.').min(1, 'Choose the entry.')

/** `over`: what to do with more than is owed. */
export const paymentIn = z.strictObject({
  key,
  lot,
  amount,
  reference,
  on,
  over: z.enum(['refuse', 'keep'], 'Say what to do with anything more than is owed.').default('refuse'),
})
export type PaymentIn = z.input<typeof paymentIn>

export const unplacedIn = z.strictObject({ key, from: fromWhom, amount, reference, on })
export type UnplacedIn = z.input<typeof unplacedIn>

const taking = { key, entryId, amount, on }
/** Where money without a home goes. For a gift the payer's word is kept. */
export const placeIn = z.discriminatedUnion('to', [
  z.strictObject({ ...taking, to: z.literal('lot'), lot }),
  z.strictObject({ ...taking, to: z.literal('gift'), word: text(150, 'Keep the payer’s word under 151 characters.') }),
])
export type PlaceIn = z.input<typeof placeIn>

const goingBack = { key, amount, reference, on, why }
export const refundIn = z.discriminatedUnion('of', [
  z.strictObject({ ...goingBack, of: z.literal('unplaced'), entryId }),
  z.strictObject({ ...goingBack, of: z.literal('lot'), lot }),
])
export type RefundIn = z.input<typeof refundIn>

const bearer = z.enum(COST_BEARERS, 'Say whose share it comes out of.')
export const costIn = z.strictObject({
  key,
  what: text(120, 'Keep it under 121 characters.').min(2, 'Write what was bought.'),
  about: z.enum(COST_ABOUT, 'Choose what it was for.'),
  amount,
  bearer,
  paidFrom: z.enum(['bank', 'pocket'], 'Say where it was paid from.'),
  lot: ofLot,
  runId: idOrNone(),
  reference,
  on,
})
export type CostIn = z.input<typeof costIn>

export const feeIn = z.strictObject({
  key,
  to: text(120, 'Keep it under 121 characters.').min(2, 'Write who kept the fee.'),
  amount,
  bearer,
  lot: ofLot,
  reference,
  on,
})
export type FeeIn = z.input<typeof feeIn>

export const reduceIn = z.strictObject({ key, lot, amount, why })
export type ReduceIn = z.input<typeof reduceIn>

export const reverseSaleIn = z.strictObject({ key, lot, why })
export type ReverseSaleIn = z.input<typeof reverseSaleIn>

/** A new contract for a lot whose sale fell through; made by a room, not by a form. */
export interface ResaleIn {
  lot: number
  personId: string
  priceMinor: Minor
  postageMinor: Minor
  /** An offer to the underbidder that was taken, or a price for whoever says yes first. */
  by: 'underbidder' | 'fixed price'
}

/** What an undone sale leaves behind. */
export interface UndoneSale extends Written {
  owedBackMinor: Minor
  /** More was sent on to the cause than there is for it now. */
  sentOnTooMuchMinor: Minor
}

export const postageIn = z.strictObject({ key, lot, amount })
export type PostageIn = z.input<typeof postageIn>

export const remittanceIn = z.strictObject({ key, amount, reference, on })
export type RemittanceIn = z.input<typeof remittanceIn>

export const moneyGiftIn = z.strictObject({
  key,
  from: fromWhom,
  donorId: idOrNone(),
  amount,
  reference,
  on,
})
export type MoneyGiftIn = z.input<typeof moneyGiftIn>

export const correctionIn = z.strictObject({
  key,
  entryId,
  why,
})
export type CorrectionIn = z.input<typeof correctionIn>
