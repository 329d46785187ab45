import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'
import type { LateBid } from '../price/late-bid.rules'
import { dayNumber } from '../programme/programme.contract'
import type { Often } from './chance.rules'

/** What is held to be likely. Common practice, no source: whoever knows their audience better says so on the page. */
export interface Likely {
  /** Late bids that change leader or price, expected in the late window for each who follows the lot. */
  bidsForEachFollower: number
  /** How many are expected to watch. While nobody follows a lot yet, one in twenty of them is reckoned for the average one. */
  watchers: number
  /** By how much interest falls with each extension: 0.8 leaves four fifths. */
  leftAfterExtension: number
  /** How often a guest talks too long, and for how much longer then on average (exponential). */
  guestOver: { share: number; meanMs: number }
  /** How often the stream is lost (Poisson), and for how long then on average (exponential). */
  lost: { perHour: number; meanMs: number }
  /** A closing later than this after its time has run over. */
  allowanceMs: number
  /** In this share of days the room after a closing is to be enough for its extensions. */
  enoughShare: number
}

export const DEFAULT_LIKELY: Likely = {
  bidsForEachFollower: 0.3,
  watchers: 100,
  leftAfterExtension: 0.8,
  guestOver: { share: 0.3, meanMs: 6 * 60_000 },
  lost: { perHour: 1 / 20, meanMs: 5 * 60_000 },
  allowanceMs: 10 * 60_000,
  enoughShare: 0.9,
}

export interface SimulatedClosing {
  lot: number
  at: Instant
  /** Late bids expected in its late window. */
  lateBids: number
  lateBid?: LateBid
}

export interface SimulatedSpan {
  kind: 'guest' | 'break'
  title: string
  from: Instant
  to: Instant
  keepsTime: boolean
}

/** From who follows the lots; from watchers and estimates while nobody does; from watchers alone where there is no estimate either. */
export type Basis = 'followers' | 'estimates' | 'watchers'

export interface DayQuestion {
  /** Where the day is played from: the opening of the stream, or now when it is on. */
  from: Instant
  closesAt: Instant
  closings: SimulatedClosing[]
  /** What the interest in each lot was taken from. */
  basis: Basis
  spans: SimulatedSpan[]
  likely: Likely
  days: number
  seed: number
}

export interface ClosingRisk {
  lot: number
  at: Instant
  /** Its last minutes run into what comes next: the next closing's ten minutes, or a break. */
  collides: Often
  /** A guest who should be gone still talks when its ten minutes begin. */
  squeezed: Often
  /** It closes later than its allowance. */
  over: Often
  /** By how much it closes later, on average with its standard error, and in nine of ten days at most. */
  delayMs: number
  delayErrorMs: number
  delayNinetyMs: number
  /** Minutes after its time against days in which it closed in that minute; the last holds all that were later still. */
  spread: number[]
}

export interface DayRisk {
  closings: ClosingRisk[]
  /** The day runs beyond the end of the stream. */
  dayOver: Often
  /** Two closings or more than none collide somewhere on the day. */
  anyCollision: Often
  /** When all is done, in nine of ten days at most. */
  doneNinety: Instant
  /** So much room after each closing is enough for its extensions, in the share of days that was asked for. */
  roomMs: number
}

export interface DayNews {
  played: number
}

const whole = z
  .union([z.number(), text(40)])
  .transform((raw) => String(raw).normalize('NFKC').trim())
  .pipe(z.string().regex(/^\d{1,6}$/, 'Write a whole number, such as 30.'))
  .transform(Number)

const upTo = (most: number) => whole.refine((value) => value <= most, `Keep it to ${most} at most.`)

export const playIn = z.strictObject({
  day: dayNumber,
  days: upTo(50_000).refine((value) => value >= 200, 'Fewer than 200 days say too little.'),
  /** Of ten followers, how many bid in the late window. */
  ofTen: upTo(50),
  /** How many are expected to watch. */
  watchers: upTo(100_000).default(DEFAULT_LIKELY.watchers),
  /** Per cent of the interest that an extension leaves. */
  left: upTo(95),
  guestPercent: upTo(100),
  guestMinutes: upTo(240),
  /** The stream is lost once in so many hours; 0 for never. */
  lostHours: upTo(1000),
  lostMinutes: upTo(240),
  allowance: upTo(240),
  /** In how many days of a hundred the room after a closing is to be enough. */
  enough: upTo(99)
    .refine((value) => value >= 50, 'Write from 50 to 99.')
    .default(90),
})
export type PlayIn = z.input<typeof playIn>

export interface SimulationView {
  state: 'playing' | 'done' | 'stopped' | 'failed'
  played: number
  days: number
  likely: Likely
  risk: DayRisk | null
  basis: Basis
  /** Guests, breaks and closings that there are to run into each other: with fewer than two there is nothing to judge. */
  parts: number
  /** The programme has changed since, so that the figures speak of another day. */
  isStale: boolean
}
