import { z } from 'zod'
import { countIn } from '#kernel/count'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { formKey, text } from '#kernel/text'
import { wordsIn } from '#kernel/words'
import type { PricedLine } from '#stock/shelf/price.rules'
import { readMinutes } from './minutes.rules'

const tag = () => text(20, 'A tag is written like TERN-03.').toUpperCase()

export const spentTagIn = z.strictObject({ tag: tag() })

const HOW_LONG = 'Write hours and minutes such as 1:30, 2.5 h or 45 min.'
const minutesIn = (most: number, tooMany: string) =>
  text(20, HOW_LONG)
    .transform((typed, ctx) => {
      const minutes = readMinutes(typed)
      if (minutes === null) ctx.addIssue({ code: 'custom', message: HOW_LONG })
      return minutes ?? 1
    })
    .refine((minutes) => minutes <= most, tooMany)

export const correctTimeIn = z.strictObject({
  key: formKey(),
  tag: tag(),
  way: z.enum(['more', 'less'], 'Choose whether time is added or taken away.'),
  time: minutesIn(60_000, 'That is more than 1,000 hours. Check it.'),
  reason: wordsIn(300, 'the reason').min(1, 'Say why, such as soldered without a note, or left the bench.'),
})

export const weekIn = z
  .strictObject({
    pause: countIn(240, 'how many minutes'),
    lead: countIn(60, 'how many minutes', 0),
    weekly: z
      .union([z.literal('').transform(() => null), minutesIn(60_480, 'A week has 168 hours, and six people at most.')])
      .default(null),
  })
  .refine(({ pause }) => pause >= 5, { path: ['pause'], error: 'Write at least 5 minutes.' })
  .refine(({ lead, pause }) => lead <= pause, { path: ['lead'], error: 'Write at most as many minutes as for the pause.' })

export const showSpentIn = z.strictObject({ tag: tag(), hours: z.boolean(), parts: z.boolean() })

/** How hours are counted; `at` and `by` are null until somebody has said it. */
export interface Week {
  pauseMinutes: number
  leadMinutes: number
  weeklyMinutes: number | null
  at: Instant | null
  by: string | null
}

export interface MachineRow {
  tag: string
  designKey: string
  designName: string
  isFinished: boolean
  /** With corrections. */
  minutes: number
  givenMinor: Minor
  boughtMinor: Minor
  /** Fitted pieces that nobody has priced. */
  unpriced: number
}

export interface SpentPage {
  machines: MachineRow[]
  /** What finished machines of a design took, in the middle. */
  designs: { key: string; name: string; finished: number; medianMinutes: number | null }[]
  week: Week
  /** Parts that sit in machines and have no price, those of which most pieces do first. */
  unpriced: { partId: string; words: string; pieces: number }[]
  currency: Currency
}

export interface SpentLine extends PricedLine {
  words: string
}

export interface MachineSpent {
  tag: string
  designName: string
  zone: string
  currency: Currency
  week: Week
  /** As stamps tell it, without corrections. */
  measuredMinutes: number
  minutes: number
  stretches: { by: string; from: Instant; to: Instant }[]
  people: { name: string; minutes: number }[]
  corrections: { at: Instant; by: string; minutes: number; reason: string }[]
  lines: SpentLine[]
  givenMinor: Minor
  boughtMinor: Minor
  unpriced: number
  /** Pieces that were fitted once and taken out again: no sum has them. */
  takenOut: number
  shows: { hours: boolean; parts: boolean }
}

/** What everybody may read of it, null where that was not chosen. */
export interface ShownSpent {
  minutes: number | null
  /** All parts together, so that nobody reads a sum as the value of one gift. */
  parts: { minor: Minor; unpriced: number; currency: Currency } | null
}
