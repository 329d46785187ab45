import { z } from 'zod'
import type { Currency, Minor } from '#kernel/money'
import { text } from '#kernel/text'
import { RELIEF_COUNTRIES, type ReliefCountry } from './relief.data'
import type { Relief } from './relief.rules'

const country = z.enum(RELIEF_COUNTRIES, 'Choose a country.')
export const reliefSwitchIn = z.strictObject({ country, isOn: z.boolean() })
export type ReliefSwitchIn = z.infer<typeof reliefSwitchIn>

const lot = z.int('Choose a lot.').positive('Choose a lot.')
export const reliefLotIn = z.strictObject({ lot })

export const lotValueIn = z.strictObject({
  lot,
  /** Empty takes the value away again. */
  value: text(40, 'That is too long for an amount.'),
  knownFrom: text(200, 'Keep it under 201 characters.'),
})
export type LotValueIn = z.infer<typeof lotValueIn>

/** What is shown of one sold lot to its buyer, or to the treasurer. */
export interface LotRelief extends Relief {
  currency: Currency
  priceMinor: Minor
}

/** A value that stands beside a lot for all to read before they bid. */
export interface PublishedValue {
  valueMinor: Minor
  knownFrom: string
  currency: Currency
}

export interface ReliefDesk {
  currency: Currency
  countries: { country: ReliefCountry; name: string; isOn: boolean; source: string; trueOn: string; conditions: string[] }[]
  lots: { number: number; title: string; isOpenToChange: boolean; valueMinor: Minor | null; knownFrom: string }[]
  mayWrite: boolean
}
