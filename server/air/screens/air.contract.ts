import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency } from '#kernel/money'
import type { Meter } from '#money/proceeds/proceeds.contract'
import type { LotsFrame } from '#sale/bidding/bidding.contract'
import type { Programme } from '#sale/programme/programme.contract'

export const cueSheetIn = z.strictObject({ lot: z.int().positive() })

/** What every screen on air begins with; the live topics keep it fresh. */
export interface AirFrames {
  programme: Programme
  lots: LotsFrame
  meter: Meter
  currency: Currency
}

export interface HostFrames extends AirFrames {
  holdOfAll: { since: Instant; reason: string } | null
}

export interface SaidName {
  name: string
  /** How to say it, "" when it is said as written. */
  sayIt: string
}

/** What the host needs at hand about one lot. Names are those who agreed to be named on stream, at this moment. */
export interface CueSheet {
  lot: number
  story: string
  record: string[]
  names: SaidName[]
  friends: number
}
