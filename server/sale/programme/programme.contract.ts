import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'
import type { StreamDay } from '#people/campaign/stream-days.rules'
import type { LateBid } from '../price/late-bid.rules'
import type { ClockChange } from './civil-time.rules'
import { ITEM_KINDS, type ItemKind } from './programme.rules'

/** A day of the calendar that there is. */
const isDay = (day: string) => {
  const at = /^\d{4}-\d\d-\d\d$/.test(day) ? Date.parse(`${day}T00:00Z`) : Number.NaN
  return !Number.isNaN(at) && new Date(at).toISOString().startsWith(day)
}

const words = (most: number, what: string) => text(most, `Keep ${what} under ${most + 1} characters.`)

/** A day and an hour of the stream's zone, as typed; full-width digits are read. */
const typed = (shape: RegExp, example: string) =>
  text(40, example)
    .transform((written) => written.normalize('NFKC').trim())
    .pipe(z.string().regex(shape, example))

export const onDay = typed(/^\d{4}-\d\d-\d\d$/, 'Write the day like 2027-03-13.')
export const atClock = typed(/^([01]\d|2[0-3]):[0-5]\d$/, 'Write the time like 19:40.')
/** Which of two, when the clocks go back and the hour occurs twice. */
export const which = z.enum(['', 'first', 'second'], 'Choose the first or the second of the two.').default('')
export const minutes = z
  .union([z.number(), text(40)])
  .transform((raw) => String(raw).normalize('NFKC').trim())
  .pipe(z.string().regex(/^\d{1,4}$/, 'Write the minutes as a whole number, such as 30.'))
  .transform(Number)

/** It was asked, and what lacks parts that come too late is announced all the same. */
const evenIfLate = z.boolean().default(false)

/** It was asked, and what closes so soon, or stands so near another, is announced all the same. */
const evenIfSoon = z.boolean().default(false)

/** Which of the campaign's stream days, from one on; the one at hand where none is said. */
export const dayNumber = z.int().min(1).max(1000).optional()

/** A day by its number, or the one that an item stands in. */
export const dayIn = z.strictObject({ day: dayNumber, item: text(80).optional() }).default({})
export type DayIn = z.output<typeof dayIn>

export const announceIn = z.strictObject({ day: dayNumber, evenIfLate, evenIfSoon }).default({ evenIfLate: false, evenIfSoon: false })

/** A further stream day: civil times in the campaign's zone (`2027-04-10T18:00`). */
const civil = (what: string) =>
  text(40, what)
    .transform((written) => written.normalize('NFKC').trim())
    .pipe(z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d$/, what))
export const addDayIn = z.strictObject({
  opens: civil('Write when this stream day begins.'),
  closes: civil('Write when this stream day ends.'),
})
export type AddDayIn = z.output<typeof addDayIn>
export const moveDayIn = addDayIn.extend({ day: z.int().min(2).max(1000) })
export type MoveDayIn = z.output<typeof moveDayIn>
export const removeDayIn = z.strictObject({ day: z.int().min(2).max(1000) })

export const planItemIn = z.strictObject({
  kind: z.enum(ITEM_KINDS, 'Choose a closing, a guest or a break.'),
  /** The lot that closes; for closings only. */
  lot: z.int('Choose the lot that closes.').positive('Choose the lot that closes.').optional(),
  title: words(120, 'the name').default(''),
  note: words(600, 'the note').default(''),
  on: onDay,
  at: atClock,
  which,
  minutes: minutes.optional(),
  announce: z.boolean().default(false),
  evenIfLate,
  evenIfSoon,
  /** A guest or a break that cannot come later, whatever moves. */
  keepsTime: z.boolean().default(false),
})
export type PlanItemIn = z.input<typeof planItemIn>

export const moveItemIn = z.strictObject({
  itemId: text(80).min(1),
  title: words(120, 'the name').default(''),
  note: words(600, 'the note').default(''),
  on: onDay,
  at: atClock,
  which,
  minutes: minutes.optional(),
  /** Left out, it stays as it was. */
  keepsTime: z.boolean().optional(),
  /** Why it moves; needed where it was announced, since everybody can read it. */
  reason: words(300, 'the reason').default(''),
})
export type MoveItemIn = z.input<typeof moveItemIn>

/** A guest or a break ends so much sooner, or later. */
export const resizeItemIn = z.strictObject({
  itemId: text(80).min(1),
  minutes: minutes.refine((value) => value >= 1, 'Write how many minutes, one at least.'),
  reason: words(300, 'the reason').min(1, 'Say why; everybody can read it.'),
})
export type ResizeItemIn = z.output<typeof resizeItemIn>

export const removeItemIn = z.strictObject({ itemId: text(80).min(1) })

const ids = (most: number) => z.array(text(80).min(1)).max(most).default([])
const onGoingOn = {
  /** Ids of guests and breaks that are dropped. */
  drop: ids(60),
  /** So many minutes later the stream ends. */
  endsLater: z.int().min(0).max(240, 'More than four hours is a new plan: use the page for the day.').default(0),
}

/** What is chosen about the day before the clocks go on; it is done with them, not before. */
export const goingOnIn = z.strictObject(onGoingOn).default({ drop: [], endsLater: 0 })
export type GoingOnIn = z.output<typeof goingOnIn>

/** The same, and the ids of what is thrown further than the clocks stood, and may be: it was shown and chosen. */
export const resumeAllIn = z.strictObject({ ...onGoingOn, accepted: ids(200) }).default({ drop: [], endsLater: 0, accepted: [] })
export type ResumeAllIn = z.input<typeof resumeAllIn>

export const endLaterIn = z.strictObject({
  minutes: minutes.refine((value) => value >= 1 && value <= 240, 'Write how many minutes later, from 1 to 240.'),
  reason: words(300, 'the reason').min(1, 'Say why; everybody can read it.'),
})
export type EndLaterIn = z.input<typeof endLaterIn>

export const audienceIn = z.strictObject({
  zones: z
    .array(
      z.strictObject({
        zone: words(64, 'the zone').min(1, 'Write a time zone such as Asia/Tokyo.'),
        sharePercent: z.int('Write the share as a whole per cent.').min(1, 'A share is 1 or more.').max(100, 'A share is at most 100.'),
        daysOff: words(400, 'the days')
          .default('')
          .transform((written) => written.split(/[\s,;]+/).filter((day) => day !== ''))
          .refine((days) => days.every(isDay), 'Write each day like 2027-03-26, with a space between two.'),
      }),
    )
    .max(6, 'Six zones are as many as anybody can read. Put neighbours together.'),
})
export type AudienceIn = z.output<typeof audienceIn>

export interface ProgrammeItem {
  id: string
  /** What calendars know it by, for life: a closing by its lot, whatever item stands for it. */
  uid: string
  kind: ItemKind
  title: string
  note: string
  lot: number | null
  unit: string | null
  /** As it was planned, and where a closing was moved by an extension or a hold, when it closes now. */
  startsAt: Instant
  endsAt: Instant
  runsTo: Instant
  isAnnounced: boolean
  isOver: boolean
  isHeld: boolean
  /** Since when its clock stands still, alone or with all. */
  heldSince: Instant | null
  /** When a bid on its lot is late, by the lot's own terms; null for what is no closing. */
  lateBid: LateBid | null
  /** A late bid, or time that was given on stream, moved its closing. */
  isExtended: boolean
  /** Its lot was withdrawn: it does not take place. */
  isWithdrawn: boolean
  /** What a lot that is over can still be had for, or went for since, in words. */
  fixedPrice: string | null
  /** Its lot is sold under another address and closes there: nothing that is done to the day here moves or stops it. */
  isSoldElsewhere: boolean
  /** It cannot come later, so the day moves around it. */
  keepsTime: boolean
  /** Rises with every change, extensions included: what a calendar goes by. */
  sequence: number
  changedAt: Instant
}

/** A lot whose machine lacks parts that come too late for the day. */
export interface LateLot {
  /** Its closing in the programme; null where it has none yet. */
  itemId: string | null
  lot: number
  unit: string
  isAnnounced: boolean
  /** "6 × Seven-segment digit, amber", one for each line that is short. */
  parts: string[]
  /** The last day on which they would be of use. */
  neededBy: string
}

/** A stream day with what takes place on it, in order. */
interface ProgrammeDay extends StreamDay {
  items: ProgrammeItem[]
  clockChange: ClockChange | null
}

/** What everybody may see of a stream day, the one at hand unless another is asked for: announced items, in order. A live frame carries the same. */
export interface Programme extends ProgrammeDay {
  name: string
  zone: string
  /** The other days on which the campaign streams, in the order of time; none for most. */
  others: ProgrammeDay[]
}

export interface PlannedZone {
  zone: string
  sharePercent: number
  daysOff: string[]
}

/** The planner's page. */
export interface DayPlan extends ProgrammeDay {
  name: string
  zone: string
  /** All days of the campaign. */
  days: StreamDay[]
  audience: PlannedZone[]
  clockChanges: ClockChange[]
  /** Lots that may be given a closing. */
  unplanned: { number: number; title: string }[]
  unannounced: number
}

/** A stream day as the maker's list of them has it. */
export interface StreamDayLine extends StreamDay {
  closings: number
  /** Why it cannot be taken away, in words; null where it can. */
  whyKept: string | null
}
