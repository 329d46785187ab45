import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { Role } from '#kernel/role'
import { text } from '#kernel/text'
import type { Disclosure } from '../bidders/disclosures.contract'
import type { MyEitherOr } from '../either-or/either-or.contract'
import type { FixedPrice } from '../fixed-price/fixed-price.contract'
import type { Receipt } from '../history/history.contract'
import type { Correction, PublicLotState } from '../lots/lots.contract'
import type { LateBid } from '../price/late-bid.rules'
import type { ReserveState } from '../price/price.rules'

const lot = z.int().min(1)

export const placeBidIn = z.strictObject({
  lot,
  /** Made by the client and used again on a retry: one effect, one answer. */
  key: text(64, 'Reload the page and try again.').regex(/^[0-9A-Za-z-]{16,64}$/, 'Reload the page and try again.'),
  maximum: text(80, 'That is too long for an amount.'),
})
export type PlaceBidIn = z.infer<typeof placeBidIn>

export const lotNumberIn = z.strictObject({ lot })
export const remindIn = z.strictObject({ lot, wanted: z.boolean() })

const alias = text(20)
export const askVoidIn = z.strictObject({
  lot,
  alias,
  reason: text(300, 'Use at most 300 characters here.').min(3, 'Say why in a few words; everybody can read it.'),
})
export const dropVoidIn = z.strictObject({ lot, alias })
/** `askedAt` says which request was read: one that was asked anew, with another reason, is not agreed to unread. */
export const agreeVoidIn = dropVoidIn.extend({ askedAt: z.int('Reload the page and read the request again.') })

/** That a bidder's bids be voided was asked for, and waits for the second of the two. */
export interface VoidRequest {
  alias: string
  reason: string
  at: Instant
  askedBy: string
  askedRole: Role
  /** Why whoever reads this may not be the second; null where they may. */
  whyNot: string | null
}

export const correctIn = z.strictObject({
  lot,
  words: text(2000, 'Use at most 2000 characters here.').min(3, 'Write what was wrong and what is right.'),
})

/** What a watching screen is sent about one lot: complete in itself. */
export interface LotFrame {
  number: number
  unit: string
  title: string
  state: PublicLotState
  currency: Currency
  standingMinor: Minor | null
  leastNextMinor: Minor | null
  openingMinor: Minor | null
  hammerMinor: Minor | null
  /** What stands of the price, only where that is no longer what the hammer fell at: nought once the sale fell through. */
  standsMinor?: Minor
  bids: number
  reserve: ReserveState
  closesAt: Instant | null
  lateBid: LateBid
  endedAt: Instant | null
  leaderAlias: string | null
  /** Whose bids here count no more, as the history says. */
  voidedAliases: string[]
  extendedTimes: number
  heldSince: Instant | null
  heldReason: string | null
  corrections: Correction[]
  ledgerSize: number
  fixedPrice: FixedPrice | null
  headHash: string | null
  serverNow: Instant
}

export interface LotsFrame {
  lots: LotFrame[]
  serverNow: Instant
}

/** A bidder's own view of one lot: what they said and where they stand. */
export interface MySide {
  alias: string | null
  maximumMinor: Minor | null
  leads: boolean
  isVoided: boolean
  /** What sending it to the paddle's country costs; null when it is not sent there. */
  postageMinor: Minor | null
  country: string
  ceilingMinor: Minor
  /** Why this person may not bid here, in words; null when they may. */
  barred: string | null
  /** A paddle is all that is missing. */
  lacksPaddle: boolean
  /** The lot stands in an either-or of theirs, so its maximum is changed there. */
  isInEitherOr: boolean
  isReminded: boolean
  hasAskedRetraction: boolean
  /** What they said of being connected, with the sale or with this lot. */
  disclosed: Disclosure[]
}

export interface MyLot {
  number: number
  title: string
  unit: string
  state: PublicLotState
  currency: Currency
  alias: string
  leads: boolean
  isVoided: boolean
  hasWon: boolean
  isInEitherOr: boolean
  standingMinor: Minor | null
  hammerMinor: Minor | null
  closesAt: Instant | null
  postageMinor: Minor | null
  /** The most that this lot can cost today, postage included; nought while somebody else leads. */
  mostMinor: Minor
  bids: { sequence: number; at: Instant; maximumMinor: Minor; receipt: Receipt }[]
}

export interface MyBids {
  currency: Currency
  lots: MyLot[]
  eitherOrs: MyEitherOr[]
  mostMinor: Minor
}
