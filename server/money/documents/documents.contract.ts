import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { formKey, text } from '#kernel/text'
import type { TaxTerms } from '../invoices/invoices.contract'
import { amount, on, reference } from '../journal/entry.contract'

export type DocumentKind = 'invoice' | 'credit note' | 'corrected invoice'

/** The price of a contract, or its postage. The amount contains the tax. */
export interface DocumentLine {
  /** The entry of the price of the contract. */
  contract: string
  lot: number
  of: 'price' | 'postage'
  words: string
  grossMinor: Minor
  taxMinor: Minor
}

/** Everything that stands on a document, as it was when it was issued. */
export interface DocumentContent {
  number: number
  kind: DocumentKind
  /** The invoice that it changes, or its latest correction. */
  about: { number: number; issuedOn: string } | null
  why: string
  issuedOn: string
  currency: Currency
  seller: { name: string; address: string; kind: '' | 'private' | 'trader' | 'charity' }
  buyer: { name: string; address: string }
  lines: DocumentLine[]
  tax: TaxTerms
  grossMinor: Minor
  taxMinor: Minor
  /** What the corrected invoice asks for more than what it corrects, or less. */
  differenceMinor: Minor
  reference: string
  account: { name: string; iban: string; bic: string } | null
  /** The payment code of what was still to pay on the date of issue; not there where there is none, as on what was issued before codes were. */
  payment?: { text: string; amountMinor: Minor } | null
  howToPay: string
  dueOn: string
  /** "At auction, on 14 March 2027." for each lot. */
  sold: string[]
  cause: string
  estimates: string[]
  cancelWords: string
}

const name = text(120, 'Keep the name under 121 characters.').min(1, 'Write to whom the invoice is made out.')
const address = text(400, 'Keep the address under 401 characters.')
  .transform((typed) =>
    typed
      .split(/\r?\n/)
      .map((line) => line.trim())
      .filter(Boolean)
      .join('\n'),
  )
  .pipe(z.string().min(5, 'Write the address: street, place, postcode and country.'))
const number = z.int('Choose an invoice.').positive('Choose an invoice.')

export const issueIn = z.strictObject({
  key: formKey(),
  lots: z
    .array(z.int('Choose a lot.').positive('Choose a lot.'))
    .min(1, 'Choose at least one lot.')
    .max(60, 'Choose sixty lots at most.')
    .refine((lots) => new Set(lots).size === lots.length, 'Choose each lot once.'),
  name,
  address,
})
export type IssueIn = z.output<typeof issueIn>

export const makeOutIn = z.strictObject({
  key: formKey(),
  number,
  name,
  address,
  why: text(200, 'Keep the reason under 201 characters.').min(3, 'Say why, so that it can be understood later.'),
})
export type MakeOutIn = z.output<typeof makeOutIn>

export const payInvoiceIn = z.strictObject({
  key: formKey(),
  number,
  amount,
  reference,
  on,
  over: z.enum(['refuse', 'keep'], 'Say what to do with anything more than is owed.').default('refuse'),
})
export type PayInvoiceIn = z.output<typeof payInvoiceIn>

/** One document in a list. */
export interface DocumentView {
  number: number
  kind: DocumentKind
  about: number | null
  issuedOn: string
  issuedAt: Instant
  /** Null where it followed what was booked or paid. */
  by: string | null
  buyer: string
  lots: number[]
  grossMinor: Minor
  /** What it changes in what the buyer was invoiced. */
  changeMinor: Minor
  why: string
  /** SHA-256 of the sheet as it was set; null until that was done, a moment after it was issued. */
  sha256: string | null
}

/** Lots of one buyer that no invoice was issued for yet, with to whom it would be made out. */
export interface ToInvoice {
  personId: string
  buyer: string
  lots: { lot: number; title: string; priceMinor: Minor; postageMinor: Minor; isPaid: boolean }[]
  name: string
  address: string
}

/** What of one buyer's invoices is still to be paid under one reference. */
export interface PaidTogether {
  number: number
  reference: string
  lots: number[]
  owedMinor: Minor
}

export interface DocumentsDesk {
  currency: Currency
  documents: DocumentView[]
  waiting: ToInvoice[]
  /** All that was invoiced, less what was credited. */
  invoicedMinor: Minor
  together: PaidTogether[]
  mayWrite: boolean
}
