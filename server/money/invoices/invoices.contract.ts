import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { formKey, text } from '#kernel/text'
import type { FixedPriceTerms } from '#sale/fixed-price/fixed-price.contract'
import type { LotMoneyState } from '../journal/lot-account.rules'
import type { SoldBy } from '../journal/sold.contract'
import type { Falls } from './due.rules'
import { bareIban, isGoodBic, isGoodIban } from './iban.rules'

const key = formKey()
const lot = z.int('Choose a lot.').positive('Choose a lot.')
const words = (most: number) => text(most, `Use at most ${most} characters here.`)
const whole = (what: string, least: number, most: number) =>
  text(40, `Write ${what} as a whole number from ${least} to ${most}.`)
    .transform((typed) => typed.normalize('NFKC').trim())
    .refine(
      (digits) => /^\d{1,3}$/.test(digits) && Number(digits) >= least && Number(digits) <= most,
      `Write ${what} as a whole number from ${least} to ${most}.`,
    )
    .transform(Number)

export const TAX_SCHEMES = ['none', 'rate', 'margin'] as const
export type TaxScheme = (typeof TAX_SCHEMES)[number]

/** What invoices say of tax, as the maker set it. The price that was bid contains it. */
export interface TaxTerms {
  taxScheme: TaxScheme
  /** Basis points; nought unless the scheme is `rate`. */
  taxRateBp: number
  /** The number under which the seller is registered; may be empty. */
  taxNumber: string
  /** What the law of the seller's country wants said beside it; may be empty. */
  taxWords: string
}

export const taxTermsOf = ({ taxScheme, taxRateBp, taxNumber, taxWords }: TaxTerms): TaxTerms => ({
  taxScheme,
  taxRateBp,
  taxNumber,
  taxWords,
})

export interface PaymentTerms extends TaxTerms {
  /** Whose account it is, as the bank knows it. */
  accountName: string
  /** Without blanks; empty when buyers pay another way. */
  iban: string
  bic: string
  dueDays: number
  /** Days after the due day. */
  reminderDays: number[]
  /** Reminders leave by themselves, with the proposed text. */
  remindersAlone: boolean
  offerAfterDays: number
  offerOpenDays: number
}

export const paymentTermsIn = z
  .strictObject({
    accountName: words(70),
    iban: text(60, 'That is too long for an IBAN.')
      .transform(bareIban)
      .refine(
        (iban) => iban === '' || isGoodIban(iban),
        'That IBAN has a slip in it: its check digits do not match. Compare it with your bank’s paperwork, character by character.',
      ),
    bic: text(40, 'That is too long for a BIC.')
      .transform((typed) => typed.replaceAll(/\s/g, '').toUpperCase())
      .refine((bic) => bic === '' || isGoodBic(bic), 'A BIC has 8 or 11 characters, such as ABCDGB2L. It may be left empty.'),
    dueDays: whole('the days', 1, 60),
    reminderDays: text(60, 'Write one to five days, such as 2, 4, 7.')
      .transform((typed) =>
        typed
          .normalize('NFKC')
          .split(/[\s,;]+/)
          .filter(Boolean),
      )
      .refine(
        (days) => days.length >= 1 && days.length <= 5 && days.every((day) => /^\d{1,2}$/.test(day) && Number(day) > 0),
        'Write one to five days, such as 2, 4, 7.',
      )
      .transform((days) => days.map(Number))
      .refine(
        (days) => days.every((day, index) => index === 0 || day > (days[index - 1] ?? 0)),
        'Write the days in order, each later than the one before.',
      ),
    remindersAlone: z.boolean(),
    offerAfterDays: whole('the days', 1, 90),
    offerOpenDays: whole('the days', 1, 30),
    taxScheme: z.enum(TAX_SCHEMES, 'Say what invoices state about tax.').default('none'),
    taxRate: text(20, 'Write the rate in per cent, such as 20 or 7.5.')
      .transform((typed) => typed.normalize('NFKC').trim().replace(/%$/, '').replace(',', '.').trim())
      .refine((typed) => /^(|\d{1,2}(\.\d{1,2})?)$/.test(typed) && Number(typed) <= 50, 'Write the rate in per cent, such as 20 or 7.5.')
      .default(''),
    taxNumber: words(40).default(''),
    taxWords: words(300).default(''),
  })
  .refine(({ taxScheme, taxRate }) => taxScheme !== 'rate' || Number(taxRate) > 0, {
    path: ['taxRate'],
    message: 'Write the rate in per cent that the price contains, such as 20 or 7.5.',
  })
  .refine(({ accountName, iban }) => iban === '' || accountName !== '', {
    path: ['accountName'],
    message: 'Write whose account it is: banks check the name against the IBAN.',
  })
  .refine(({ reminderDays, offerAfterDays }) => offerAfterDays > (reminderDays.at(-1) ?? 0), {
    path: ['offerAfterDays'],
    message: 'The offer comes after the last reminder. Write a later day.',
  })
export type PaymentTermsIn = z.output<typeof paymentTermsIn>

export const lotIn = z.strictObject({ lot })
export const remindIn = z.strictObject({
  key,
  lot,
  step: z.int().min(1).max(5),
  subject: words(200).min(3, 'Write what the email is about.'),
  body: words(6000).min(10, 'Write what the email says.'),
})
export type RemindIn = z.infer<typeof remindIn>

export const offerIn = z.strictObject({ key, lot, why: words(180).min(3, 'Say why the first sale ends.') })
export type OfferIn = z.infer<typeof offerIn>
export const answerOfferIn = z.strictObject({ key, offerId: text(80).min(1), accepts: z.boolean() })
export type AnswerOfferIn = z.infer<typeof answerOfferIn>
export const takeBackOfferIn = z.strictObject({ offerId: text(80).min(1) })

/** What the new contract says, as it stood when the offer was made. */
export interface OfferTerms extends FixedPriceTerms {
  country: string
}

/** One invoice, for its buyer and for the staff who look after money. No delivery address stands on it. */
export interface InvoiceView {
  lot: number
  title: string
  unit: string
  state: LotMoneyState
  currency: Currency
  buyer: string
  seller: string
  sellerAddress: string
  sellerKind: string
  cause: string
  causeRegistration: string
  shareBp: number
  /** What made the contract. */
  by: SoldBy
  hammerMinor: Minor
  postageMinor: Minor
  /** Where it goes, by its name; empty when nobody has said. */
  country: string
  receivedMinor: Minor
  owedMinor: Minor
  estimate: { lowMinor: Minor; highMinor: Minor } | null
  extras: string[]
  soldAt: Instant
  dueOn: string
  daysLate: number
  /** As printed: in groups of four. */
  reference: string
  /** Lots that are paid under the same reference, this one among them, and what is still to pay for all of them; null where it is paid alone. */
  together: { lots: number[]; owedMinor: Minor } | null
  account: { name: string; iban: string; bic: string } | null
  /** The text of the payment code; null where there is none to show. */
  payment: string | null
  howToPay: string
  cancelWords: string
  zone: string
}

/** A lot that somebody bought, by the contract of theirs that was made last. */
export interface MySale {
  lot: number
  title: string
  unit: string
  by: SoldBy
  currency: Currency
  /** It is theirs; otherwise that sale fell through, and its price and postage are nought. */
  stands: boolean
  priceMinor: Minor
  postageMinor: Minor
}

/** What one buyer has still to pay. */
export interface Basket {
  lots: Pick<InvoiceView, 'lot' | 'title' | 'owedMinor' | 'reference' | 'dueOn' | 'daysLate'>[]
  currency: Currency
  totalMinor: Minor
}

/** One line of what falls due. */
export interface DueLine {
  /** The first of those that are paid together. */
  lot: number
  lots: number[]
  title: string
  buyer: string
  paddle: number | null
  owedMinor: Minor
  receivedMinor: Minor
  dueOn: string
  daysLate: number
  falls: Falls
  sent: { step: number; at: Instant; by: string | null }[]
}

export interface OfferView {
  id: string
  lot: number
  terms: OfferTerms
  priceMinor: Minor
  postageMinor: Minor
  currency: Currency
  openUntil: Instant
  answer: 'accepted' | 'declined' | 'taken back' | null
  answeredAt: Instant | null
  isOver: boolean
  zone: string
}

/** Whom a lot could be offered to, and why not to those before them. */
export interface NextUnderbidder {
  /** Who has it by a sale that stands, and what they have paid so far; null where none stands. */
  first: { name: string; paidMinor: Minor } | null
  next: { name: string; paddle: number | null; priceMinor: Minor; postageMinor: Minor } | null
  passedOver: { name: string; why: string }[]
}
