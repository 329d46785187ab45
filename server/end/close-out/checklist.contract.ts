import { z } from 'zod'
import { formKey } from '#kernel/text'
import type { PriceDesk } from '#money/fixed-price/offer-price.contract'
import type { Afterwards } from '#sale/price/result.rules'
import { atClock, onDay, which } from '#sale/programme/programme.contract'

/** A lot that ended, and whose machine nobody has and nobody is asked about. */
export interface LeftLot extends PriceDesk {
  unit: string
  /** What was said that becomes of the machine; empty while that is not decided. */
  afterwards: Afterwards
}

/** Puts the machine of such a lot into a new one; with a day and a time its closing is planned, without either it is left to the planner. */
export const sellAnewIn = z.strictObject({
  key: formKey(),
  lot: z.int('Choose a lot.').positive('Choose a lot.'),
  on: z.union([onDay, z.literal('')], 'Write the day like 2027-03-13, or leave it empty.').default(''),
  at: z.union([atClock, z.literal('')], 'Write the time like 19:40, or leave it empty.').default(''),
  which,
})
export type SellAnewIn = z.output<typeof sellAnewIn>

/** One thing to be done before a campaign is closed out. Its state follows from what there is. */
export interface CheckItem {
  key: string
  title: string
  state: 'done' | 'open' | 'not-yet'
  words: string
  href: string
  link: string
}
