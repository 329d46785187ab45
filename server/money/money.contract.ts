import { z } from 'zod'
import type { Instant } from '../kernel/instant'
import type { Currency, Minor } from '../kernel/money'
import type { EntryKind, Posting } from './journal.rules'
import type { LotMoneyState, Proceeds } from './proceeds.rules'

const key = z.string().min(8, 'The form has no key. Reload the page.').max(80, 'The key is too long. Reload the page.')
const lot = z.int('Choose a lot.').positive('Choose a lot.')
/** Money as typed; it is read in the campaign's currency where that is known. */
const amount = z.string().trim().min(1, 'Write an amount.').max(40, 'That is too long for an amount.')
const reference = z.string().trim().max(80, 'Keep the reference under 81 characters.').default('')
/** The day on the bank's paper; empty is today. */
const on = z
  .string()
  .trim()
  .regex(/^(\d{4}-\d\d-\d\d)?$/, 'Write the day like 2027-03-14, or leave it empty for today.')
  .default('')

export const paymentIn = z.strictObject({ key, lot, amount, reference, on })
export type PaymentIn = z.input<typeof paymentIn>

export const postageIn = z.strictObject({ key, lot, amount })
export type PostageIn = z.input<typeof postageIn>

export const remittanceIn = z.strictObject({ key, amount, reference, on })
export type RemittanceIn = z.input<typeof remittanceIn>

export const moneyGiftIn = z.strictObject({
  key,
  from: z.string().trim().min(1, 'Write who it is from. "A friend" will do.').max(120, 'Keep the name under 121 characters.'),
  donorId: z.string().max(80).optional(),
  amount,
  reference,
  on,
})
export type MoneyGiftIn = z.input<typeof moneyGiftIn>

export const correctionIn = z.strictObject({
  key,
  entryId: z.string().min(1, 'Choose the entry to take back.').max(80, 'Choose the entry to take back.'),
  why: z.string().trim().min(3, 'Say why, so that it can be understood later.').max(200, 'Keep the reason under 201 characters.'),
})
export type CorrectionIn = z.input<typeof correctionIn>

/** What the meter shows; a live frame and `/proceeds.json` carry the same. */
export interface Meter extends Proceeds {
  currency: Currency
  causeName: string
  causeShareBp: number
  lots: { open: number; sold: number; unsold: number }
}

/** One sold lot as the treasurer sees it. */
export interface SoldLot {
  number: number
  title: string
  unit: string
  state: LotMoneyState
  buyer: string
  paddle: number | null
  reference: string
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
  isCorrection: boolean
  isCorrected: boolean
  postings: Posting[]
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
  postageMinor: Minor
  receivedMinor: Minor
  unpaidMinor: Minor
  remittedMinor: Minor
  /** Held in the bank for the cause and not yet sent on. */
  toRemitMinor: Minor
  varianceMinor: Minor
  /** Where the variance is, a sentence for each place; empty when it is nought. */
  varianceAt: string[]
}

export interface Books {
  meter: Meter
  statement: Statement
  journal: JournalLine[]
  /** The treasurer writes; the maker reads. */
  mayWrite: boolean
}
