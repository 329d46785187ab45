import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { text } from '#kernel/text'
import { atClock, dayNumber, minutes, onDay, which } from '../programme/programme.contract'
import type { Planning } from './planner'
import { DAY_WISHES, type DayWishKind, DEFAULT_SETTINGS } from './question.rules'
import type { SettledWish } from './settled-wishes.rules'

/** A wish for the plan of the day, as the form sends it. */
export const wishIn = z.strictObject({
  lot: z.int('Choose the lot.').positive('Choose the lot.'),
  kind: z.enum(DAY_WISHES, 'Choose what you would like.'),
  /** For `guest`: the guest's item in the programme. */
  guest: text(80).default(''),
  on: z.union([onDay, z.literal('')]).default(''),
  at: z.union([atClock, z.literal('')], 'Write the time like 19:40.').default(''),
  which,
  isPin: z.boolean().default(false),
  /** What keeping it may cost of the expected total; for wishes that are no pins. */
  weight: text(40).default(''),
})
export type WishIn = z.input<typeof wishIn>

export const dropWishIn = z.strictObject({ wishId: text(80).min(1) })

const upTo = (most: number, words: string) => minutes.refine((value) => value <= most, words)

export const startIn = z.strictObject({
  day: dayNumber,
  before: upTo(120, 'Keep it to two hours at most.'),
  after: upTo(120, 'Keep it to two hours at most.'),
  allowance: upTo(120, 'Keep it to two hours at most.'),
  likeApart: upTo(720, 'Keep it to twelve hours at most.'),
  best: upTo(100, 'Write a percentage from 0 to 100.'),
  /** No closing in the first minutes of the stream. */
  first: upTo(720, 'Keep it to twelve hours at most.').default(DEFAULT_SETTINGS.firstMinutes),
  silence: minutes
    .refine((value) => value >= 10 && value <= 1440, 'Write from 10 minutes to a day.')
    .default(DEFAULT_SETTINGS.silenceMinutes),
  mostAnHour: upTo(12, 'Twelve an hour is the most there can be: one for each step.').default(DEFAULT_SETTINGS.mostAnHour),
  /** The dearest lot is never the first to close. */
  dearestNotFirst: z.boolean().default(true),
})
export type StartIn = z.input<typeof startIn>

export interface WishRow {
  id: string
  lot: number
  kind: DayWishKind
  words: string
  isPin: boolean
  weightMinor: Minor
  /** Not null where its lot was announced: no plan moves that, and the wish is kept or not. */
  settled: SettledWish | null
}

export interface PlannedClosing {
  lot: number
  title: string
  wasAt: Instant | null
  at: Instant
}

/** The planner's page: what was wished, and how far the planning is. */
export interface PlanningView {
  currency: Currency
  zone: string
  wishes: WishRow[]
  guests: { id: string; title: string }[]
  lots: { number: number; title: string }[]
  /** Lots that have no likely estimate, so that the plan cannot weigh them. */
  withoutEstimate: number[]
  running: Pick<Planning, 'state' | 'seconds' | 'bestMinor' | 'boundMinor'> | null
  planned: PlannedClosing[]
  expectedMinor: Minor | null
  /** What the same lots are estimated at, all awake. */
  estimatedMinor: Minor | null
  /** The longest time without a closing in the day that the plan makes. */
  silenceMinutes: number | null
  prices: { wishId: string; words: string; kept: boolean; costMinor: Minor | null; shareBp: number }[]
  together: { wishId: string; words: string }[]
  /** Rules that could give way instead, each with what it would have to become. */
  ways: string[]
  /** Said when the closings alone do not fit. */
  room: { neededMinutes: number; thereMinutes: number } | null
}
