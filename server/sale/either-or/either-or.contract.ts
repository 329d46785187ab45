import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { text } from '#kernel/text'
import type { BidAnswer } from '../bids/bids.contract'
import type { LotPrices } from '../price/slip.rules'
import type { LinkPhase } from './either-or.rules'

const key = text(64, 'Reload the page and try again.').regex(/^[0-9A-Za-z-]{16,64}$/, 'Reload the page and try again.')
const amount = text(80, 'That is too long for an amount.')

export const makeEitherOrIn = z.strictObject({
  key,
  links: z
    .array(z.strictObject({ lot: z.int().min(1), maximum: amount }))
    .min(2, 'An either-or needs at least two lots.')
    .max(12, 'Put twelve lots at most in one either-or.'),
  mostWins: z.int('Write a whole number.').min(1, 'At least one.').max(12, 'At most twelve.'),
  /** Empty for none. */
  cap: amount,
})
export type MakeEitherOrIn = z.infer<typeof makeEitherOrIn>

export const changeLinkIn = z.strictObject({ key, eitherOr: text(64), lot: z.int().min(1), maximum: amount })
export type ChangeLinkIn = z.infer<typeof changeLinkIn>

export const dropEitherOrIn = z.strictObject({ eitherOr: text(64) })

export interface MyLink extends LotPrices {
  place: number
  lot: number
  title: string
  maximumMinor: Minor
  phase: LinkPhase
  why: string | null
  leads: boolean
  hammerMinor: Minor | null
  closesAt: Instant | null
  leastNextMinor: Minor | null
}

/** One either-or, for the eyes of whoever made it. */
export interface MyEitherOr {
  id: string
  currency: Currency
  mostWins: number
  capMinor: Minor | null
  links: MyLink[]
  warnings: string[]
  /** The most it can still cost in hammer prices. */
  mostMinor: Minor
  isOver: boolean
}

export interface EitherOrAnswer {
  eitherOr: MyEitherOr
  /** The bids that it placed at once, each with its receipt. */
  bids: BidAnswer[]
}

/** A lot that may stand in a new either-or; one that was bid on may only stand first. */
export interface EitherOrLot extends LotPrices {
  number: number
  title: string
  closesAt: Instant | null
  leastNextMinor: Minor | null
  hasBid: boolean
  /** What its reader allows there while they lead: their maximum may not be less. */
  ownMinor: Minor | null
}
