import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { tableIn } from '#kernel/table-in'
import { formKey, text } from '#kernel/text'
import type { DayOrder } from '#kernel/written-day'
import { COST_ABOUT, COST_BEARERS } from '../journal/journal.rules'
import type { StatedBalances } from './camt-file.rules'
import type { LayoutChoice } from './layout.rules'
import type { BankReading } from './statement-file.rules'
import type { Part, Suggestion } from './suggest.rules'

const key = formKey()
const amount = text(40, 'That is too long for an amount.').min(1, 'Write an amount.')
const lineId = text(80, 'Choose a line.').min(1, 'Choose a line.')
const entryId = text(80, 'Choose an entry.').min(1, 'Choose an entry.')
const words = (most: number) => text(most, `Use at most ${most} characters here.`)

export const bankFileIn = tableIn('The bank’s file').extend({
  dayOrder: z.enum(['day first', 'month first'], 'Say whether the day or the month comes first.').optional(),
  sign: z.enum(['as it stands', 'turned'], 'Say what a minus means.').optional(),
  twins: z.enum(['once', 'each'], 'Say whether it is one line or two.').optional(),
  again: z.enum(['same', 'another'], 'Say whether it is the same payment.').optional(),
  afresh: z.boolean().optional(),
})
export type BankFileIn = z.output<typeof bankFileIn>

/** Where a part of a line goes; amounts as typed, always above zero. */
export const partIn = z.discriminatedUnion('to', [
  z.strictObject({ to: z.literal('entry'), entryId, amount }),
  z.strictObject({ to: z.literal('lot'), lot: z.int('Choose a lot.').positive('Choose a lot.'), amount }),
  z.strictObject({ to: z.literal('unplaced'), amount }),
  z.strictObject({ to: z.literal('gift'), amount, from: words(120).min(1, 'Write who it is from. "A friend" will do.') }),
  z.strictObject({ to: z.literal('remittance'), amount }),
  z.strictObject({ to: z.literal('refund'), entryId, amount }),
  z.strictObject({
    to: z.literal('cost'),
    amount,
    what: words(120).min(2, 'Write what was bought.'),
    about: z.enum(COST_ABOUT, 'Choose what it was for.'),
    bearer: z.enum(COST_BEARERS, 'Say whose share it comes out of.'),
    lot: z.int('Choose a lot.').positive('Choose a lot.').optional(),
  }),
  z.strictObject({
    to: z.literal('fee'),
    amount,
    what: words(120).min(2, 'Write who kept the fee.'),
    bearer: z.enum(COST_BEARERS, 'Say whose share it comes out of.'),
  }),
])
export type PartIn = z.infer<typeof partIn>

type AmountRead<Part> = Part extends { amount: string } ? Omit<Part, 'amount'> & { amountMinor: Minor } : never
/** The same with its amount read. */
export type PlacedPart = AmountRead<PartIn> | Extract<Part, { to: 'unplaced' }>

export const placeLineIn = z.strictObject({
  key,
  lineId,
  parts: z.array(partIn).min(1, 'Say where it goes.').max(12, 'Split it into twelve parts at most.'),
})
export type PlaceLineIn = z.infer<typeof placeLineIn>
export const confirmIn = z.strictObject({ key, lineId })
export type ConfirmIn = z.infer<typeof confirmIn>
export const setAsideIn = z.strictObject({ lineId, why: words(300).min(3, 'Say why it has nothing to do with the campaign.') })
export type SetAsideIn = z.infer<typeof setAsideIn>
export const reopenIn = z.strictObject({ key, lineId, why: words(180).min(3, 'Say what was wrong.') })
export type ReopenIn = z.infer<typeof reopenIn>

export const forgetLayoutIn = z.strictObject({ layoutId: text(80, 'Choose a bank.').min(1, 'Choose a bank.') })
export type ForgetLayoutIn = z.infer<typeof forgetLayoutIn>

/** How a file was read, before anything is kept. */
export interface BankPreview extends Omit<BankReading, 'rows'> {
  rows: (BankReading['rows'][number] & { isKnown: boolean })[]
  fresh: number
  currency: Currency
  /** How the last file of this bank was read, where this one was read in the same way. */
  remembered: { file: string; at: Instant; choice: LayoutChoice } | null
}

/** What is remembered of a bank's files. */
export interface LayoutView {
  id: string
  account: string
  /** Whose list of sales it is; empty for a bank's file. */
  processor: string
  columns: { heading: string; column: string }[]
  dayOrder: DayOrder | null
  isTurned: boolean
  file: string
  at: Instant
  by: string | null
}

export const balancesIn = z
  .strictObject({
    key,
    account: words(70),
    opensOn: text(20, 'Write the day like 2027-03-14.').regex(/^\d{4}-\d\d-\d\d$/, 'Write the day like 2027-03-14.'),
    closesOn: text(20, 'Write the day like 2027-03-14.').regex(/^\d{4}-\d\d-\d\d$/, 'Write the day like 2027-03-14.'),
    opening: amount,
    closing: amount,
  })
  .refine(({ opensOn, closesOn }) => closesOn >= opensOn, { path: ['closesOn'], message: 'The closing day comes after the opening day.' })
export type BalancesIn = z.output<typeof balancesIn>

/** The books against the bank's own figures. */
export interface ReconciledView {
  balances: StatedBalances
  file: string
  linesMinor: Minor
  setAsideMinor: Minor
  missingMinor: Minor
  linesWithoutEntry: { id: string; on: string; amountMinor: Minor; words: string }[]
  entriesWithoutLine: { entryId: string; on: string; amountMinor: Minor; memo: string }[]
  agrees: boolean
}

export interface BankLineView {
  id: string
  on: string
  /** The day from which it counts, where that is another. */
  valueOn: string | null
  /** Another currency than that of the books. */
  currency: string | null
  amountMinor: Minor
  words: string
  name: string
  reference: string
  file: string
  line: number
  state: 'open' | 'placed' | 'set aside'
  why: string
  settledAt: Instant | null
  settledBy: string | null
  suggestion: Suggestion | null
  /** What became of it, in the journal's words. */
  became: { memo: string; lot: number | null; amountMinor: Minor; isTakenBack: boolean }[]
}

export interface BankDesk {
  currency: Currency
  zone: string
  open: BankLineView[]
  settled: BankLineView[]
  /** Against each statement of the bank, the latest first. */
  reconciled: ReconciledView[]
  layouts: LayoutView[]
  lots: { lot: number; title: string; buyer: string; owedMinor: Minor }[]
  owing: { entryId: string; memo: string; leftMinor: Minor }[]
  mayWrite: boolean
}
