import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { MyChain } from '../either-or/either-or.contract'
import type { Disclosure } from '../fairness/fairness.contract'
import type { Leaf } from '../history/history.contract'
import type { Correction, PublicLotState } from '../lots/lots.contract'
import type { ReserveState } from '../price/price.rules'

const lot = z.int().min(1)
const reason = z.string().trim().min(3, 'Say why in a few words; everybody can read it.').max(300, 'At most 300 letters here.')

export const placeBidIn = z.strictObject({
  lot,
  /** Made by the client and used again on a retry: one effect, one answer. */
  key: z.string().regex(/^[0-9A-Za-z-]{16,64}$/, 'Reload the page and try again.'),
  maximum: z.string().max(80, 'That is too long for an amount.'),
})
export type PlaceBidIn = z.infer<typeof placeBidIn>

export const holdIn = z.strictObject({ lot, reason })
export const holdAllIn = z.strictObject({ reason })
export const remindIn = z.strictObject({ lot, wanted: z.boolean() })
export const lotNumberIn = z.strictObject({ lot })
export const extendIn = z.strictObject({
  lot,
  minutes: z.int('Write whole minutes.').min(1, 'At least one minute.').max(240, 'At most four hours.'),
  reason,
})
export const withdrawIn = z.strictObject({ lot, reason })
export const voidIn = z.strictObject({ lot, alias: z.string().max(20), reason })
export const correctIn = z.strictObject({
  lot,
  words: z.string().trim().min(3, 'Write what was wrong and what is right.').max(2000, 'At most 2000 letters here.'),
})
export const elsewhereResultIn = z.strictObject({
  lot,
  hammer: z.string().max(80),
  /** Where the result can be read, or who told it. */
  source: z.string().trim().min(3, 'Say where the result comes from: an address, or who told it.').max(300, 'At most 300 letters here.'),
})

/** What a bidder is given to check and to keep: the entry, its way to a signed head, and the opening of the commitment. */
export interface Receipt {
  leaf: Leaf
  index: number
  size: number
  /** Hashes in hex, lowest first. */
  path: string[]
  checkpoint: string
  opening: { lot: number; alias: string; sequence: number; amountMinor: Minor; nonce: string }
}

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
  bids: number
  reserve: ReserveState
  closesAt: Instant | null
  endedAt: Instant | null
  leaderAlias: string | null
  extendedTimes: number
  heldSince: Instant | null
  heldReason: string | null
  corrections: Correction[]
  ledgerSize: number
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
  isInChain: boolean
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
  isInChain: boolean
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
  chains: MyChain[]
  mostMinor: Minor
}
