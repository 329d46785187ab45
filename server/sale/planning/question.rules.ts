import { type Instant, MINUTE } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import { type AudienceZone, awakeShare } from '../programme/awake.rules'
import { AFTER_CLOSING, BEFORE_CLOSING, type PlannedItem } from '../programme/programme.rules'
import { dearest } from './model.rules'
import { type Closing, type PlanQuestion, type Slot, STEP_MINUTES, type Wish } from './planning.contract'

const STEP = STEP_MINUTES * MINUTE

/** What the best lot loses for each step away from its place, as a share of its estimate. Common practice, no source. */
const PLACE_SHARE = 0.01

/** Of what a lot raises, the part that is lost for each who sleeps: the others left their maximum. Common practice, no source. */
const LOST_ASLEEP = 0.3
/** What the dearest gain by standing late, as a share of what they are dearer than the average. Common practice, no source. */
const RISE_SHARE = 0.05
/** What it costs, as shares of all estimates: each step too much of a silence, each step that two of the best are too near, and two with no other between them. */
const SILENCE_SHARE = 0.01
const NEAR_SHARE = 0.002
const NEXT_SHARE = 0.1
/** So much longer than the closings spread evenly a silence may be, where there are too few of them for the one wished. */
const UNEVEN = 1.25
/** Of fewer lots no three can keep others between them. */
const ENOUGH_BETWEEN = 5
const BEST = 3

export const DAY_WISHES = ['guest', 'not-before', 'not-after', 'at', 'last', 'not-first'] as const
export type DayWishKind = (typeof DAY_WISHES)[number]

/** What somebody wished for a lot, in the words of the day. */
export interface DayWish {
  id: string
  lot: number
  kind: DayWishKind
  guestItemId: string | null
  at: Instant | null
  isPin: boolean
  weightMinor: Minor
}

export interface LotToPlan {
  number: number
  title: string
  design: string | null
  /** The likely estimate; a lot without one counts for nothing until it has one. */
  likelyMinor: Minor | null
  /** Announced, or open: its time stands. */
  announcedAt: Instant | null
}

export interface PlanSettings {
  minutesBefore: number
  minutesAfter: number
  /** For extensions, kept free after the minutes that the host needs. */
  allowance: number
  likeApartMinutes: number
  bestPercent: number
  /** No closing in the first minutes of the stream. */
  firstMinutes: number
  /** The longest time without a closing; longer where there are too few of them. */
  silenceMinutes: number
  /** 0 where it does not matter. */
  mostAnHour: number
}

/**
 * Common practice: 10 and 5 minutes for the host, 10 for extensions, an hour between like units, the best at 70 %; none in the
 * first half-hour, one every hour and a half, and three in an hour at most.
 */
export const DEFAULT_SETTINGS: PlanSettings = {
  minutesBefore: BEFORE_CLOSING / MINUTE,
  minutesAfter: AFTER_CLOSING / MINUTE,
  allowance: 10,
  likeApartMinutes: 60,
  bestPercent: 70,
  firstMinutes: 30,
  silenceMinutes: 90,
  mostAnHour: 3,
}

export interface DayFacts {
  opensAt: Instant
  closesAt: Instant
  now: Instant
  lots: readonly LotToPlan[]
  items: readonly (PlannedItem & { lot: number | null })[]
  audience: readonly AudienceZone[]
  wishes: readonly DayWish[]
  settings: PlanSettings
}

export const slotTime = (opensAt: Instant, slot: Slot): Instant => opensAt + slot * STEP

/** The day as the planner asks it: lots without an announced time are placed, all else is taken. */
export function questionOf(facts: DayFacts): PlanQuestion {
  const { opensAt, closesAt, now, lots, items, audience, settings } = facts
  const floor = (at: Instant) => Math.floor((at - opensAt) / STEP)
  const ceil = (at: Instant) => Math.ceil((at - opensAt) / STEP)
  const steps = (minutes: number) => Math.ceil(minutes / STEP_MINUTES)
  const before = steps(settings.minutesBefore)
  const after = steps(settings.minutesAfter + settings.allowance)
  // The last closing, too, is followed by room for its extensions before the stream ends.
  const slots = Math.max(0, Math.floor((closesAt - opensAt) / STEP) - after)
  const likeApart = steps(settings.likeApartMinutes)
  const announcedLots = lots.filter(({ announcedAt }) => announcedAt !== null)
  const open = lots.filter(({ announcedAt }) => announcedAt === null)
  const average = open.reduce((sum, { likelyMinor }) => sum + (likelyMinor ?? 0), 0) / Math.max(1, open.length)
  const share = Array.from({ length: slots + 1 }, (_, slot) => awakeShare(audience, slotTime(opensAt, slot)))
  const closings = open.map(({ number, design, likelyMinor }): Closing => {
    const alike = design === null ? [] : announcedLots.filter((other) => other.design === design)
    return {
      lot: number,
      design,
      before,
      after,
      estimateMinor: likelyMinor ?? 0,
      value: share.map((awake) => Math.round((likelyMinor ?? 0) * (1 - LOST_ASLEEP * (1 - awake)))),
      earliest: Math.max(steps(settings.firstMinutes), ceil(now) + before),
      riseMinor: Math.round(((likelyMinor ?? 0) - average) * RISE_SHARE),
      barred: alike.map(({ announcedAt }) => ({
        // Outwards: where the announced one stands between two slots, both sides keep their distance.
        from: floor(announcedAt ?? 0) - likeApart + 1,
        to: ceil(announcedAt ?? 0) + likeApart,
      })),
    }
  })
  const taken = [
    ...items.filter(({ kind }) => kind === 'break').map(({ startsAt, endsAt }) => ({ from: floor(startsAt), to: ceil(endsAt) })),
    ...announcedLots.map(({ announcedAt }) => ({
      from: floor((announcedAt ?? 0) - settings.minutesBefore * MINUTE),
      to: ceil((announcedAt ?? 0) + (settings.minutesAfter + settings.allowance) * MINUTE),
    })),
  ]
  const best = dearest(closings)
  const announced = announcedLots.map(({ announcedAt }) => floor(announcedAt ?? 0))
  const from = Math.max(0, ceil(now))
  const coming = closings.length + announced.filter((slot) => slot >= from).length
  const evenly = Math.ceil(((slots - from) / (coming + 1)) * UNEVEN)
  const total = closings.reduce((sum, { estimateMinor }) => sum + estimateMinor, 0)
  const costOf = (part: number) => Math.max(1, Math.round(total * part))
  return {
    slots,
    closings,
    taken,
    announced,
    mostAnHour: settings.mostAnHour,
    silence: { from, longest: Math.max(steps(settings.silenceMinutes), evenly), perStepMinor: costOf(SILENCE_SHARE) },
    bestApart:
      closings.length < ENOUGH_BETWEEN
        ? null
        : {
            lots: bestOf(closings),
            apart: Math.max(steps(settings.silenceMinutes), evenly) + 1,
            perStepMinor: costOf(NEAR_SHARE),
            nextMinor: costOf(NEXT_SHARE),
          },
    wishes: facts.wishes.filter(({ lot }) => open.some(({ number }) => number === lot)).map((one) => wishOf(one, facts, slots)),
    likeApart,
    best: best && { share: settings.bestPercent / 100, perStepMinor: Math.round(best.estimateMinor * PLACE_SHARE) },
  }
}

/** The lots of the highest estimates. */
const bestOf = (closings: readonly Closing[]): number[] =>
  [...closings]
    .sort((a, b) => b.estimateMinor - a.estimateMinor || a.lot - b.lot)
    .slice(0, BEST)
    .map(({ lot }) => lot)

function wishOf(wish: DayWish, { opensAt, items }: DayFacts, slots: Slot): Wish {
  const { id, lot, isPin, weightMinor } = wish
  const slot = (at: Instant | null) => ((at ?? opensAt) - opensAt) / STEP
  const guest = items.find((item) => item.id === wish.guestItemId)
  const common = { id, lot, isPin, weightMinor, words: wishWords(wish, items) }
  const within = (from: number, to: number): Wish => ({ ...common, kind: 'within', from: Math.ceil(from), to: Math.floor(to) })
  switch (wish.kind) {
    case 'guest':
      return within(slot(guest?.startsAt ?? null), slot(guest?.endsAt ?? null))
    case 'not-before':
      return within(slot(wish.at), slots)
    case 'not-after':
      return within(0, slot(wish.at))
    case 'at':
      return within(Math.round(slot(wish.at)), Math.round(slot(wish.at)))
    default:
      return { ...common, kind: wish.kind, from: 0, to: slots }
  }
}

/** "lot 7 while Imre Vass is there"; times are added by whoever knows the zone. */
export function wishWords(wish: DayWish, items: DayFacts['items'], clock: (at: Instant) => string = () => ''): string {
  const guest = items.find(({ id }) => id === wish.guestItemId)
  const time = wish.at === null ? '' : clock(wish.at)
  const what: Record<DayWishKind, string> = {
    guest: `while ${guest?.title ?? 'its guest'} is there`,
    'not-before': `not before ${time}`,
    'not-after': `not after ${time}`,
    at: `at ${time}`,
    last: 'last of all',
    'not-first': 'not the first',
  }
  return `lot ${wish.lot} ${what[wish.kind]}`.trim()
}
