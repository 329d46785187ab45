import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import type { TableFlaw } from '#kernel/table'
import { tableIn } from '#kernel/table-in'
import { formKey, text } from '#kernel/text'
import { COST_BEARERS, type CostBearer } from '../journal/journal.rules'
import type { LayoutChoice } from './layout.rules'
import type { PayoutReading, PayoutRow } from './payout-file.rules'

const places = z
  .array(
    z.strictObject({
      line: z.int().min(1).max(20_000),
      to: z.union([z.literal('unplaced'), z.int('Choose a lot.').positive('Choose a lot.')]),
    }),
  )
  .max(5000)

export const payoutFileIn = tableIn('The processor’s list').extend({
  lineId: text(80, 'Choose a line.').min(1, 'Choose a line.'),
  /** Where a row goes that its own words do not place. */
  places: places.optional(),
  /** Read by its own headings, whatever is remembered. */
  afresh: z.boolean().optional(),
})
export type PayoutFileIn = z.output<typeof payoutFileIn>

export const bookPayoutIn = payoutFileIn.extend({
  key: formKey(),
  processor: text(100, 'Use at most 100 characters here.').min(2, 'Write who took the payments and kept the fees.'),
  bearer: z.enum(COST_BEARERS, 'Say whose share the fees come out of.'),
})
export type BookPayoutIn = z.output<typeof bookPayoutIn>

/** What a row of a payout is booked as. */
export type PayoutPlace =
  | { to: 'lot'; lot: number; buyer: string }
  | { to: 'unplaced'; of: { personId: string | null; buyer: string; lot: number } | null }
  | { to: 'back'; lot: number; buyer: string }
  | { to: 'fee' }

export interface PayoutPreview extends Omit<PayoutReading, 'rows'> {
  rows: (PayoutRow & { place: PayoutPlace | null; why: string })[]
  flaws: TableFlaw[]
  grossMinor: Minor
  feeMinor: Minor
  netMinor: Minor
  /** What the bank's line says. */
  lineMinor: Minor
  currency: Currency
  /** How the last list of this processor was read, where this one was read in the same way. */
  remembered: { file: string; at: Instant; processor: string; bearer: CostBearer; choice: LayoutChoice } | null
}
