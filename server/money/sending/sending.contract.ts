import { z } from 'zod'
import { COUNTRY_CODES } from '#kernel/countries'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { fileText, formKey, isHttpsAddress, sha256In, text } from '#kernel/text'
import type { Postage } from '#sale/lots/lots.contract'
import { amount, on, reference } from '../journal/entry.contract'
import type { PackingItem, SendingStage } from './packing.rules'
import type { ProblemState } from './problem.rules'

export const CELLS = ['unsaid', 'none', 'dry', 'ion-inside', 'ion-beside', 'metal-inside', 'metal-beside'] as const
export type Cells = (typeof CELLS)[number]

export const PROBLEM_ENDS = ['replaced', 'refunded', 'explained'] as const
export type ProblemEnd = (typeof PROBLEM_ENDS)[number]

/** One row of the campaign's table of postage. */
export interface Band {
  zone: string
  countries: string[]
  upToGrams: number
  amountMinor: Minor
}

export interface SendingTerms {
  homeCountry: string
  /** Cubic centimetres to a kilogram. */
  volumetricDivisor: number
  /** Hours until a reported problem is first answered. */
  answerHours: number
  /** Days after the stream for which a buyer's address is kept. */
  addressesKeptDays: number
}

const key = formKey()
const lot = z.int('Choose a lot.').positive('Choose a lot.')
const words = (most: number) => text(most, `Use at most ${most} characters here.`)
const country = text(20, 'Choose a country.')
  .toUpperCase()
  .refine((code) => COUNTRY_CODES.includes(code), 'Choose a country.')

const whole = (what: string, least: number, most: number) =>
  text(40, `Write ${what} as a whole number from ${least} to ${most}.`)
    .transform((typed) => typed.normalize('NFKC').trim())
    .refine(
      (digits) => /^\d{1,7}$/.test(digits) && Number(digits) >= least && Number(digits) <= most,
      `Write ${what} as a whole number from ${least} to ${most}.`,
    )
    .transform(Number)

export const termsIn = z.strictObject({
  homeCountry: country,
  volumetricDivisor: whole('the divisor', 1000, 10_000),
  answerHours: whole('the hours', 1, 720),
  addressesKeptDays: whole('the days', 14, 3650),
})
export type TermsIn = z.infer<typeof termsIn>

const optionalGrams = text(40)
  .transform((typed) => typed.normalize('NFKC').trim())
  .refine((digits) => digits === '' || (/^\d{1,7}$/.test(digits) && Number(digits) >= 1 && Number(digits) <= 1_000_000), {
    message: 'Write the net weight in grams as a whole number from 1 to 1000000, or leave it empty.',
  })
  .transform((digits) => (digits === '' ? null : Number(digits)))

const cell = words(1200)
export const bandsIn = z.strictObject({
  rows: z.array(z.strictObject({ zone: words(80), countries: cell, upTo: words(20), amount: words(40) })).max(80, 'At most eighty rows.'),
})
export type BandsIn = z.infer<typeof bandsIn>
export const bandsFileIn = z.strictObject({ text: fileText(100_000, 'That file is too large for a table of postage.') })

export const lotIn = z.strictObject({ lot })

export const addressIn = z.strictObject({
  lot,
  name: words(120).min(1, 'Write the name to put on the parcel.'),
  street: words(300).min(3, 'Write the street and the number.'),
  place: words(120).min(1, 'Write the town.'),
  postcode: words(20),
  region: words(80).default(''),
  country,
  telephone: words(40).regex(/^[+0-9 ()./-]*$/, 'Write a telephone number with figures, such as +44 20 7946 0000, or leave it empty.'),
})
export type AddressIn = z.infer<typeof addressIn>

const item = text(40).min(1)
const sha = sha256In('Take the photograph again.')
export const tickIn = z.strictObject({ lot, item, isPacked: z.boolean() })
export type TickIn = z.infer<typeof tickIn>
export const packPhotographIn = z.strictObject({ lot, item, sha })
export type PackPhotographIn = z.infer<typeof packPhotographIn>

export const parcelIn = z.strictObject({
  lot,
  weightGrams: whole('the weight in grams', 1, 1_000_000),
  lengthMm: whole('the length in millimetres', 1, 10_000),
  widthMm: whole('the width in millimetres', 1, 10_000),
  heightMm: whole('the height in millimetres', 1, 10_000),
  cells: z.enum(CELLS, 'Say whether there are cells.').refine((one) => one !== 'unsaid', 'Say whether there are cells in the parcel.'),
  wattHours: text(40)
    .transform((text) => text.normalize('NFKC').trim().replace(',', '.').replace(/wh$/i, '').trimEnd())
    .refine((text) => text === '' || /^\d{1,5}(\.\d{1,3})?$/.test(text), 'Write the watt-hours printed on the battery, such as 7.4.'),
  mains: z.enum(['no', 'yes'], 'Say whether it runs from the mains.'),
  goods: words(300),
  origin: text(20, 'Choose where it was made.')
    .toUpperCase()
    .refine((code) => code === '' || COUNTRY_CODES.includes(code), 'Choose where it was made.'),
  /** Of the goods without their packing; the lot's own weight unless it is said. */
  netGrams: optionalGrams,
  tariffHint: words(40)
    .transform((typed) => typed.normalize('NFKC').replaceAll(/[ .]/g, ''))
    .refine(
      (code) => code === '' || /^\d{6,10}$/.test(code),
      'Write the harmonised code as 6 to 10 figures, such as 8543.70, or leave it empty.',
    ),
})
export type ParcelIn = z.infer<typeof parcelIn>

export const joinIn = z.strictObject({
  key,
  lots: z
    .array(lot)
    .min(2, 'Choose at least one more lot for the parcel.')
    .max(60, 'Choose sixty lots at most.')
    .refine((lots) => new Set(lots).size === lots.length, 'Choose each lot once.'),
  /** The postage of the whole parcel; empty leaves what each lot is charged. */
  postage: words(40),
})
export type JoinIn = z.infer<typeof joinIn>

export const parcelPostageIn = z.strictObject({ key, lot, postage: words(40).min(1, 'Write the postage of the parcel.') })
export type ParcelPostageIn = z.infer<typeof parcelPostageIn>

export const dispatchIn = z.strictObject({
  lot,
  carrier: words(80).min(2, 'Write who carries it.'),
  tracking: words(80),
  trackingUrl: words(500).refine((text) => text === '' || isHttpsAddress(text), 'An address that begins with https://.'),
})
export type DispatchIn = z.infer<typeof dispatchIn>

const said = words(4000).min(3, 'Say in a few words what it is about.')
export const reportIn = z.strictObject({ key, lot, words: said, photoSha: sha.optional() })
export type ReportIn = z.infer<typeof reportIn>
export const noteIn = z.strictObject({ key, problemId: text(80).min(1), words: said, photoSha: sha.optional() })
export type NoteIn = z.infer<typeof noteIn>
export const endProblemIn = z.strictObject({
  key,
  problemId: text(80).min(1),
  as: z.enum(PROBLEM_ENDS, 'Say how it ends.'),
  words: words(2000).min(3, 'Say what was done, so that the buyer reads it.'),
  /** For a refund: how much goes back. */
  amount: words(40),
  /** The whole sale is undone; the machine comes back. */
  isWhole: z.boolean(),
  /** The bank's reference where the money has gone back already; empty where it is still to go. */
  reference: words(80),
  hasGoneBack: z.boolean(),
})
export type EndProblemIn = z.infer<typeof endProblemIn>

export const PARCEL_WISHES = ['one', 'several'] as const
export type ParcelWish = (typeof PARCEL_WISHES)[number]
export const wishIn = z.strictObject({ lot, wants: z.enum(PARCEL_WISHES, 'Say whether you want one parcel or several.') })
export type WishIn = z.infer<typeof wishIn>

export const parcelCostIn = z.strictObject({
  key,
  lot,
  amount,
  paidFrom: z.enum(['bank', 'pocket'], 'Say where it was paid from.'),
  reference,
  on,
})
export type ParcelCostIn = z.input<typeof parcelCostIn>

/** A parcel, or a lot that is to be sent in one of its own: what its buyer was charged, and what sending it cost so far. */
export interface ParcelPostage {
  lots: number[]
  sentAt: Instant | null
  chargedMinor: Minor
  /** Null while nothing was entered for it. */
  costMinor: Minor | null
}

/** All of them, with sending costs that belong to no single parcel. */
export interface PostageAccount {
  currency: Currency
  parcels: ParcelPostage[]
  otherMinor: Minor
  chargedMinor: Minor
  /** With what belongs to no single parcel. */
  costMinor: Minor
}

export interface Address {
  name: string
  street: string
  place: string
  postcode: string
  /** State, province or prefecture, where its country has one. */
  region: string
  country: string
  telephone: string
}

export interface ProblemView {
  id: string
  state: ProblemState
  openedAt: Instant
  answerDueAt: Instant
  /** "3 h 20 min left for the first answer"; empty while it is the buyer's turn. */
  clock: string
  endedAs: ProblemEnd | null
  endedWords: string
  endedAt: Instant | null
  refundMinor: Minor | null
  notes: { at: Instant; side: 'buyer' | 'staff'; by: string; words: string; photoSha: string | null }[]
}

/** A sold lot in the list of what is to be sent. */
export interface SendingLine {
  lot: number
  title: string
  unit: string
  stage: SendingStage
  packed: number
  items: number
  country: string
  sentAt: Instant | null
  carrier: string
  problem: ProblemState | null
  /** Other lots in the same parcel. */
  beside: number[]
  /** The buyer wants it in one parcel with others of theirs that have not been sent; empty where they do not. */
  wishedWith: number[]
}

export interface PackedItem extends PackingItem {
  packedAt: Instant | null
  packedBy: string | null
  photographs: { sha: string; at: Instant; by: string }[]
}

export interface ParcelView {
  weightGrams: number | null
  sizeMm: [number, number, number] | null
  /** By its size, and what the carrier will charge for. */
  volumetricGrams: number | null
  chargeableGrams: number | null
  cells: Cells
  milliwattHours: number | null
  mains: 'unsaid' | 'no' | 'yes'
  goods: string
  origin: string
  /** Of the goods without their packing; null where neither the parcel nor the lot says it. */
  netGrams: number | null
  /** The harmonised code of the goods; empty until somebody has chosen it. */
  tariffHint: string
}

export interface BesideLot {
  lot: number
  title: string
  /** Its part of the postage. */
  postageMinor: Minor
}

/** Everything of one lot that whoever packs needs. */
export interface SendingView {
  lot: number
  title: string
  unit: string
  stage: SendingStage
  currency: Currency
  zone: string
  /** Kept for whoever sends; null before the buyer has said it, and after it was deleted. */
  address: Address | null
  /** Whether this reader may see where it goes. */
  seesAddress: boolean
  /** What else is in the same parcel, and what of the same buyer's could be. */
  beside: BesideLot[]
  couldJoin: BesideLot[]
  /** What the buyer said of it; null where they said nothing. */
  wish: { wants: ParcelWish; at: Instant } | null
  isAbroad: boolean
  items: PackedItem[]
  parcel: ParcelView
  dangers: string[]
  hints: { cells: string | null; mains: string | null }
  /** What the buyer is charged for the parcel, with all that is in it, and what the table says for it as it is weighed now. */
  postage: { paidMinor: Minor; zone: string | null; tableMinor: Minor | null; words: string; ownMinor: Minor; costMinor: Minor | null }
  whyNot: string[]
  carrier: string
  tracking: string
  trackingUrl: string
  sentAt: Instant | null
  arrivedAt: Instant | null
  arrivalSaidBy: 'buyer' | 'staff' | null
  problems: ProblemView[]
  /** The treasurer or the maker may let a part of the price go. */
  owedMinor: Minor
  receivedMinor: Minor
  now: Instant
}

/** The buyer's side of the sending of a lot that they won. */
export interface MyParcel {
  stage: SendingStage
  /** Other lots that are sent in the same parcel. */
  beside: number[]
  /** Others of theirs that could come in the same parcel, and what they wish of it. */
  couldJoin: number[]
  wish: ParcelWish | null
  address: Address | null
  /** What is charged for sending it, whether the treasurer said so, and what the terms ask for anywhere. */
  postage: { chargedMinor: Minor; isByHand: boolean; table: readonly Postage[] }
  carrier: string
  tracking: string
  trackingUrl: string
  sentAt: Instant | null
  arrivedAt: Instant | null
  packed: number
  items: number
  problems: ProblemView[]
  answerHours: number
  addressesKeptUntil: Instant
}
