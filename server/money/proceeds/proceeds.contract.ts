import type { Currency } from '#kernel/money'
import type { Proceeds } from './proceeds.rules'

/** What the meter shows; a live frame and `/proceeds.json` carry the same. */
export interface Meter extends Proceeds {
  currency: Currency
  causeName: string
  causeShareBp: number
  /** Lots have opened under other shares than the campaign's, so each goes by its own. */
  sharesDiffer: boolean
  /** `toBeHad` are among the unsold, the withdrawn and those that fell through: they can still be had at a fixed price. */
  lots: { open: number; sold: number; unsold: number; fellThrough: number; toBeHad: number }
}
