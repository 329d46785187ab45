import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { DayClose, DayPoint } from './day.rules'
import type { BatchPart, HourPart, MachinePart } from './pictures.rules'

/** Where the money came from, and what the batch cost against what it raised. Amounts for the cause unless told otherwise. */
export interface MoneyPictures {
  currency: Currency
  zone: string
  machines: MachinePart[]
  hours: HourPart[]
  batches: BatchPart[]
  /** Costs and fees for no single batch. */
  sharedCostMinor: Minor
}

/** The stream day as steps; a live frame carries the whole of it. */
export interface DayFrame {
  currency: Currency
  zone: string
  targetMinor: Minor
  fromAt: Instant
  toAt: Instant
  /** When it was made. */
  at: Instant
  points: DayPoint[]
  closes: DayClose[]
}
