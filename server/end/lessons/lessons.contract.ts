import { z } from 'zod'
import type { EarlierDesign } from '#bench/earlier/earlier.rules'
import type { Cause } from '#bench/faults/fault.contract'
import type { Currency, Minor } from '#kernel/money'
import type { Spread } from '#kernel/spread'
import type { GaveAgain, HourOfDay, Waited } from './lessons.rules'

/** Which campaign is asked about, by its number; null for all of them. */
export const lessonsIn = z.strictObject({ of: z.int().min(1).nullable() })

/** What the machines of one design came to that were in a lot. */
export interface DesignLesson {
  key: string
  name: string
  machines: number
  sold: number
  /** What stands of each price. */
  sales: Spread | null
  raisedMinor: Minor
  /** Parts that sit in them, at what they would cost to buy again. */
  givenMinor: Minor
  boughtMinor: Minor
  /** Pieces without a price, which both leave out. */
  unpriced: number
  /** Minutes at the bench of those that are finished. */
  minutes: Spread | null
}

export interface FaultLesson {
  designName: string
  block: string
  cause: Cause
  faults: number
  minutes: number
}

/** How many pieces of a part went into the machines that were in a lot, those that were replaced too. */
export interface PartLesson {
  partId: string
  words: string
  used: number
  machines: number
  inHand: number
}

export interface Lessons {
  currency: Currency
  campaigns: { number: number; name: string }[]
  of: number | null
  designs: DesignLesson[]
  /** Built before this house; told with all campaigns only. */
  earlier: EarlierDesign[]
  hours: HourOfDay[]
  faults: FaultLesson[]
  checks: { taken: number; failed: number }
  waited: Waited[]
  /** Gifts of parts that nobody has fitted yet, the longest waiting first. */
  unfitted: { giftId: string; words: string; partId: string | null; days: number }[]
  givers: { all: number; again: number; names: GaveAgain[] }
  parts: PartLesson[]
}
