import { z } from 'zod'
import { CURRENCY_CODES } from '#kernel/money'
import { idIn, text } from '#kernel/text'
import { wordsIn } from '#kernel/words'

/** What became of a machine that was built before this house. To whom it went is never asked. */
export const FATES = ['sold', 'given away', 'kept', 'taken apart', 'lost', 'not known'] as const
export type Fate = (typeof FATES)[number]

/** A year, a month or a day, as well as it is known: "2023", "2023-05", "2023-05-14". */
const day = text(10).regex(/^\d{4}(-\d{2}(-\d{2})?)?$/)

export const earlierIn = z.strictObject({
  design: wordsIn(80, 'the design').min(1, 'Say which machine it was.'),
  serial: wordsIn(60, 'the serial number').default(''),
  builtOn: day.nullable(),
  minutes: z.int().min(1).max(600_000, 'That is more than ten thousand hours. Check it.').nullable(),
  raisedMinor: z.int().min(0).max(100_000_000_000).nullable(),
  currency: z.enum(CURRENCY_CODES).nullable(),
  fate: z.enum(FATES),
  fateOn: day.nullable(),
})
export type EarlierIn = z.output<typeof earlierIn>

export const forgetEarlierIn = z.strictObject({ id: idIn() })
