import { z } from 'zod'
import { ACCOUNTS, ENTRY_KINDS } from '../journal/journal.rules'

export const JOURNAL_SCHEMA = '/schemas/journal-1.json'

const minor = z.int().describe('An amount in minor units of the currency, such as pence: a whole number, which may be below zero.')

/** The whole journal in one file. A change that breaks a reader takes the next number. */
export const journalFile = z
  .strictObject({
    $schema: z.literal(JOURNAL_SCHEMA),
    drawnAt: z.string().describe('When this file was made (RFC 3339, in UTC).'),
    currency: z.string().describe('ISO 4217. Every amount is in it.'),
    decimals: z.int().describe('How many decimal places its major unit has: 2 where 1250 means 12.50.'),
    balances: z
      .record(z.enum(ACCOUNTS), minor)
      .describe('What each account stands at: the sum of its lines. Owed to us, held by us or spent is above zero; owed by us is below.'),
    entries: z
      .array(
        z.strictObject({
          id: z.string().describe('Known by it for good.'),
          at: z.string().describe('When it was written (RFC 3339, in UTC).'),
          day: z.string().describe('The day on the paper that it rests on, 2027-03-14.'),
          kind: z.enum(ENTRY_KINDS).describe('What happened. An entry that takes another back bears the kind of that one.'),
          memo: z.string().describe('What it was, in words.'),
          reference: z.string().describe('What the bank’s paper or the payer said; may be empty.'),
          lot: z.int().nullable().describe('The number of the lot that it concerns.'),
          corrects: z.string().nullable().describe('The id of the entry that this one takes back.'),
          lines: z.array(z.strictObject({ account: z.enum(ACCOUNTS), amountMinor: minor })).describe('Two or more; they add up to zero.'),
        }),
      )
      .describe('In the order in which they were written. None is ever changed or left out.'),
  })
  .describe('The journal of a campaign: every entry with its lines.')
export type JournalFile = z.infer<typeof journalFile>

export const journalSchema = () => ({ ...z.toJSONSchema(journalFile, { target: 'draft-2020-12' }), $id: JOURNAL_SCHEMA })
