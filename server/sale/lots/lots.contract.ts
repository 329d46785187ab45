import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { sha256In, text } from '#kernel/text'
import type { RecordingKind } from '#runtime/disk/recording-kinds.rules'
import type { FixedPrice } from '../fixed-price/fixed-price.contract'
import type { Ladder } from '../price/ladder.rules'
import type { LateBid } from '../price/late-bid.rules'
import type { ReserveState } from '../price/price.rules'
import { AFTERWARDS, type Afterwards } from '../price/result.rules'

export const LOT_STATES = ['draft', 'ready', 'open', 'held', 'sold', 'unsold', 'withdrawn'] as const
export type LotState = (typeof LOT_STATES)[number]
/** States in which a lot is shown to anybody: all but the draft. */
export type PublicLotState = Exclude<LotState, 'draft'>

export const SOLD_WHERE = ['here', 'elsewhere'] as const
export type SoldWhere = (typeof SOLD_WHERE)[number]

export interface Postage {
  zone: string
  /** Two-letter codes; `*` means everywhere else. */
  countries: string[]
  amountMinor: Minor
}

/** What was put right in the description of an open lot. */
export interface Correction {
  at: Instant
  words: string
  certificate?: NamedCertificate
}

/** What became of the certificate that the terms name. */
export interface NamedCertificate {
  serial: string
  is: 'superseded' | 'withdrawn'
  /** What was issued after it, once something was. */
  by: string | null
}

/** What was fixed at the opening; a later change of the draft's fields or of the campaign does not touch it. The reserve is fixed too, and stands sealed beside it. */
export interface LotTerms {
  currency: Currency
  openingMinor: Minor
  ladder: Ladder
  /** When a bid is late and what it adds; terms from before there was one have none. */
  lateBid?: LateBid
  /** First line of every checkpoint of this lot. */
  origin: string
  sale: {
    title: string
    story: string
    unit: string
    certificate: string
    extras: string[]
    cause: string
    causeRegistration: string
    causeShareBp: number
    seller: string
    sellerKind: string
    cancelWords: string
    postage: Postage[]
    weightGrams: number
    sizeMm: [number, number, number]
    /** What it was thought to bring before anybody bid; each null where nobody said. Terms from before have none of the two. */
    estimate?: { lowMinor: Minor | null; highMinor: Minor | null }
    /** The photographs that it was offered with, in their order. */
    photographs?: { sha256: string; caption: string }[]
    /** Sound and video that it was offered with; absent where there was none. */
    recordings?: { sha256: string; caption: string }[]
  }
}

/** Sound or video of the machine of a lot. */
export interface LotRecording {
  sha: string
  kind: RecordingKind
  bytes: number
  caption: string
  /** What there is to hear and see, for those who cannot. */
  description: string
}

export interface LotPhotograph {
  sha: string
  caption: string
  width: number
  height: number
}

const words = (most: number) => text(most, `Use at most ${most} characters here.`)
const amount = words(40)
const number = z.int().min(1)

const wholeNumber = (what: string, most: number) =>
  text(40, `Write ${what} as a whole number from 1 to ${most}.`)
    .transform((typed) => typed.normalize('NFKC').trim())
    .refine(
      (digits) => digits === '' || (/^\d{1,7}$/.test(digits) && Number(digits) >= 1 && Number(digits) <= most),
      `Write ${what} as a whole number from 1 to ${most}.`,
    )
    .transform((digits) => (digits === '' ? null : Number(digits)))

export const afterwardsIn = z.strictObject({
  lot: z.int('Choose a lot.').positive('Choose a lot.'),
  as: z.enum(AFTERWARDS, 'Say what becomes of it.'),
})
export type AfterwardsIn = z.infer<typeof afterwardsIn>

export const startLotIn = z.strictObject({ unit: words(20).min(1, 'Choose a unit.') })
export type StartLotIn = z.infer<typeof startLotIn>

/** A lot for `unit` that begins with what another one says. */
export const copyLotIn = z.strictObject({ unit: words(20).min(1, 'Choose a unit.'), from: number })
export type CopyLotIn = z.infer<typeof copyLotIn>

export const saveLotIn = z.strictObject({
  lot: number,
  title: words(120).min(1, 'Give the lot a title, such as "Saltmarsh shortwave receiver".'),
  story: words(6000),
  /** One extra a line. */
  extras: words(4000),
  opening: amount,
  reserveKind: z.enum(['undecided', 'none', 'amount'], 'Say whether there is a reserve.'),
  reserve: amount,
  low: amount,
  likely: amount,
  high: amount,
  weightGrams: wholeNumber('the weight in grams', 1_000_000),
  lengthMm: wholeNumber('the length in millimetres', 10_000),
  widthMm: wholeNumber('the width in millimetres', 10_000),
  heightMm: wholeNumber('the height in millimetres', 10_000),
  soldWhere: z.enum(SOLD_WHERE, 'Say where it is sold.'),
  elsewhereUrl: words(500),
})
export type SaveLotIn = z.infer<typeof saveLotIn>

export const savePostageIn = z.strictObject({
  lot: number,
  rows: z.array(z.strictObject({ zone: words(80), countries: words(1200), amount })).max(12, 'Use twelve lines of postage at most.'),
})
export type SavePostageIn = z.infer<typeof savePostageIn>

export const saveLadderIn = z.strictObject({
  /** null: the campaign's, for every lot that has none of its own. */
  lot: number.nullable(),
  rows: z.array(z.strictObject({ from: amount, step: amount })).max(12, 'Use twelve rungs at most.'),
})
export type SaveLadderIn = z.infer<typeof saveLadderIn>
export const ladderIn = z.strictObject({ lot: number.nullable() })

export const addPhotographIn = z.strictObject({
  lot: number,
  sha: sha256In('Add the photograph again.'),
  caption: words(200).min(1, 'Say in a few words what the photograph shows.'),
})
export type AddPhotographIn = z.infer<typeof addPhotographIn>

export const addRecordingIn = z.strictObject({
  lot: number,
  sha: sha256In('Add the recording again.'),
  caption: words(200).min(1, 'Say in a few words what runs, such as "Tuning across 40 metres".'),
  description: words(2000).min(1, 'Write what there is to hear and see, for those who cannot.'),
})
export type AddRecordingIn = z.infer<typeof addRecordingIn>

export const removeRecordingIn = z.strictObject({ lot: number, seq: z.int().min(0) })
export const removePhotographIn = z.strictObject({ lot: number, seq: z.int().min(0) })
export const lotIn = z.strictObject({ lot: number })

/** A lot as any room or screen may know it: no maximum, no reserve's amount, no name of a bidder. */
export interface LotCard {
  id: string
  number: number
  unitId: string
  unit: string
  title: string
  state: LotState
  currency: Currency
  openingMinor: Minor | null
  standingMinor: Minor | null
  leastNextMinor: Minor | null
  bids: number
  reserve: ReserveState
  closesAt: Instant | null
  /** When a bid is late and what it adds: by the terms, before there are any by the campaign. */
  lateBid: LateBid
  openedAt: Instant | null
  endedAt: Instant | null
  heldSince: Instant | null
  heldReason: string | null
  extendedTimes: number
  leaderAlias: string | null
  hammerMinor: Minor | null
  /** What stands of the price, only where that is no longer what the hammer fell at: nought once the sale fell through. */
  standsMinor?: Minor
  /** What became of the machine where nobody bought it in the end. */
  afterwards?: Exclude<Afterwards, ''>
  winnerPersonId: string | null
  lowMinor: Minor | null
  likelyMinor: Minor | null
  highMinor: Minor | null
  soldWhere: SoldWhere
  /** The share of the price that its terms promise the cause, in basis points; not there before it has opened. */
  causeShareBp?: number
  elsewhereUrl: string | null
  /** Where the result of a lot sold elsewhere can be read. */
  resultSource: string | null
  /** What it can still be had for, or went for, at a fixed price after it ended; null where neither. */
  fixedPrice: FixedPrice | null
  corrections: Correction[]
  ledgerSize: number
  headHash: string | null
  photograph: LotPhotograph | null
}
