import type { z } from 'zod'
import { listRuns } from '#bench/units/units.service'
import { MINUTE } from '#kernel/instant'
import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { showClock } from '#kernel/wall-clock'
import { getCampaign } from '#people/campaign/campaign.service'
import type { StreamDay } from '#people/campaign/stream-days.rules'
import { dayOf, getDay } from '#people/campaign/stream-days.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '../lots/lots.service'
import { placeClosings } from '../programme/place.service'
import { ENDED, listItems, listItemsOfDay, readAudience, readStart } from '../programme/programme.service'
import { dearest } from './model.rules'
import { roomOf } from './plan.rules'
import type { Planner } from './planner'
import { STEP_MINUTES, type Wish } from './planning.contract'
import { type DayFacts, type DayWish, DEFAULT_SETTINGS, type PlanSettings, questionOf, slotTime, wishWords } from './question.rules'
import { longestSilence } from './rhythm.rules'
import { settledWish } from './settled-wishes.rules'
import { wayWords } from './way-words.rules'
import type { dropWishIn, PlanningView, startIn, wishIn } from './wish.contract'
import * as store from './wish.store'

const DEAREST = 'the-dearest-not-first'

/** Adds a wish for the plan of the day. */
export function addWish(turn: Turn, input: z.output<typeof wishIn>): { wishId: string } {
  const { zone, currency } = getCampaign(turn)
  const lot = listLots(turn).find(({ number }) => number === input.lot)
  if (!lot) throw Refusal.at('lot', 'Choose the lot.')
  if (ENDED.includes(lot.state)) throw Refusal.at('lot', `Lot ${lot.number} is ${lot.state}. Choose another.`, 'conflict')
  const needsTime = input.kind === 'at' || input.kind === 'not-before' || input.kind === 'not-after'
  if (needsTime && input.on === '') throw Refusal.at('on', 'Write the day like 2027-03-13.')
  if (needsTime && input.at === '') throw Refusal.at('at', 'Write the time like 19:40.')
  const guest = input.kind === 'guest' ? listItems(turn).find(({ id, kind }) => id === input.guest && kind === 'guest') : null
  if (guest === undefined) throw Refusal.at('guest', 'Choose the guest. Put the guests into the day first.')
  const row: store.WishKept = {
    id: turn.dice.id(),
    lotId: lot.id,
    kind: input.kind,
    guestItemId: guest?.id ?? null,
    at: needsTime ? readStart({ on: input.on, at: input.at, which: input.which }, zone) : null,
    isPin: input.isPin,
    weightMinor: input.isPin ? 0 : parseMoney(input.weight, currency, 'weight'),
    madeAt: turn.now,
  }
  store.insertWish(turn.db, row)
  turn.record({ kind: 'planning.wished', subject: `lot:${lot.number}`, body: { wish: row.id, what: row.kind, isPin: row.isPin } })
  return { wishId: row.id }
}

export function dropWish(turn: Turn, { wishId }: z.output<typeof dropWishIn>): void {
  if (store.deleteWish(turn.db, wishId) === 0) throw new Refusal('not-found', 'That wish is already gone. Reload the page.')
  turn.record({ kind: 'planning.unwished', subject: 'planning', body: { wish: wishId } })
}

/** Begins to plan a stream day; how far it is can be read at any time. */
export function startPlanning(sight: Sight, planner: Planner, input: z.output<typeof startIn>): void {
  const settings: PlanSettings = {
    minutesBefore: input.before,
    minutesAfter: input.after,
    allowance: input.allowance,
    likeApartMinutes: input.likeApart,
    bestPercent: input.best,
    firstMinutes: input.first,
    silenceMinutes: input.silence,
    mostAnHour: input.mostAnHour,
  }
  const facts = readFacts(sight, getDay(sight, input.day), settings)
  const question = questionOf(facts)
  if (question.closings.length === 0)
    throw new Refusal('conflict', 'Every lot has an announced time or has closed: there is nothing to plan. Prepare another lot first.')
  const best = dearest(question.closings)
  const notFirst: Wish[] =
    input.dearestNotFirst && best && best.estimateMinor > 0 && question.closings.length + question.announced.length > 1
      ? [
          {
            id: DEAREST,
            lot: best.lot,
            kind: 'not-first',
            from: 0,
            to: question.slots,
            isPin: true,
            weightMinor: 0,
            words: dearestWords(best.lot),
          },
        ]
      : []
  planner.start({ ...question, wishes: [...question.wishes, ...notFirst] }, facts.opensAt)
}

const dearestWords = (lot: number) => `the dearest, lot ${lot}, not the first`

/** Takes the plan over into the programme, all closings at once. Refuses where the day has changed since so that it does not fit any more. */
export function adoptPlan(turn: Turn, planner: Planner): { moved: number } {
  const present = planner.present()
  if (!present?.plan) throw new Refusal('too-early', 'There is no plan to use. Have one made first.')
  const { closings } = present.question
  const moves = closings.map(({ lot }, index) => ({ lot, at: slotTime(present.opensAt, present.plan?.at[index] ?? 0) }))
  return { moved: placeClosings(turn, moves, 'The day was planned again.') }
}

/** What is wished for a stream day, and the plan of it; one that was made for another day is not shown here. */
export function readPlanning(sight: Sight, planner: Planner, number?: number): PlanningView {
  const { zone, currency } = getCampaign(sight)
  const day = getDay(sight, number)
  const facts = readFacts(sight, day, DEFAULT_SETTINGS)
  const clock = (at: number) => showClock(at, zone)
  const words = new Map(facts.wishes.map((wish) => [wish.id, wishWords(wish, facts.items, clock)]))
  const last = planner.present()
  const present = last?.opensAt === day.opensAt ? last : null
  const best = present && dearest(present.question.closings)
  if (best) words.set(DEAREST, dearestWords(best.lot))
  const open = facts.lots.filter(({ announcedAt }) => announcedAt === null)
  const told = ({ wish }: { wish: string }) => ({ wishId: wish, words: words.get(wish) ?? 'a wish that was dropped since' })
  const room = present?.state === 'nothing-fits' && present.together.length === 0 ? roomOf(present.question) : null
  return {
    currency,
    zone,
    wishes: facts.wishes.map((wish) => ({
      id: wish.id,
      lot: wish.lot,
      kind: wish.kind,
      words: words.get(wish.id) ?? '',
      isPin: wish.isPin,
      weightMinor: wish.weightMinor,
      settled: settledWish(wish, facts),
    })),
    guests: facts.items.filter(({ kind }) => kind === 'guest').map(({ id, title }) => ({ id, title })),
    lots: open.map(({ number, title }) => ({ number, title })),
    withoutEstimate: open.filter(({ likelyMinor }) => likelyMinor === null).map(({ number }) => number),
    running: present && {
      state: present.state,
      seconds: present.seconds,
      bestMinor: present.bestMinor,
      boundMinor: present.boundMinor,
    },
    planned: (present?.plan?.at ?? []).map((slot, index) => {
      const lot = present?.question.closings[index]?.lot ?? 0
      return {
        lot,
        title: facts.lots.find(({ number }) => number === lot)?.title ?? '',
        wasAt: facts.items.find((item) => item.lot === lot)?.startsAt ?? null,
        at: slotTime(day.opensAt, slot),
      }
    }),
    expectedMinor: present?.plan?.expectedMinor ?? null,
    estimatedMinor: present?.plan ? present.question.closings.reduce((sum, { estimateMinor }) => sum + estimateMinor, 0) : null,
    silenceMinutes: present?.plan ? longestSilence(present.question, present.plan.at) * STEP_MINUTES : null,
    prices: (present?.prices ?? []).map(({ wish, ...price }) => ({ ...told({ wish }), ...price })),
    together: (present?.together ?? []).map((wish) => told({ wish })),
    ways: (present?.ways ?? []).map((way) => wayWords(way, (wish) => told({ wish }).words)),
    room: room && { neededMinutes: room.needed * STEP_MINUTES, thereMinutes: room.there * STEP_MINUTES },
  }
}

/** A stream day as it is planned: with its own lots, and those that stand in none yet. */
function readFacts(sight: Sight, day: StreamDay, settings: PlanSettings): DayFacts {
  const { zone } = getCampaign(sight)
  const items = listItemsOfDay(sight, day)
  const elsewhere = new Set(listItems(sight).flatMap(({ id, lot }) => (items.some((item) => item.id === id) ? [] : [lot])))
  const designOf = new Map(listRuns(sight).map(({ tagPrefix, designId }) => [tagPrefix, designId]))
  const lots = listLots(sight).filter(({ number, state }) => !ENDED.includes(state) && !elsewhere.has(number))
  const numberOf = new Map(lots.map(({ id, number }) => [id, number]))
  const wishes = store.listWishes(sight.db).flatMap(({ lotId, ...wish }): DayWish[] => {
    const lot = numberOf.get(lotId)
    // What is wished for the hours or the guest of another day has nothing to say here.
    const isHere =
      wish.kind === 'guest'
        ? items.some(({ id }) => id === wish.guestItemId)
        : wish.at === null || dayOf(sight, wish.at).number === day.number
    return lot === undefined || !isHere ? [] : [{ ...wish, lot }]
  })
  const audience = readAudience(sight)
  return {
    opensAt: day.opensAt,
    closesAt: day.closesAt,
    // The grid begins where the stream does, so a time within five minutes counts as passed.
    now: Math.max(sight.now, day.opensAt - settings.minutesBefore * MINUTE),
    items,
    audience: audience.length > 0 ? audience : [{ zone, shareBp: 10_000 }],
    wishes,
    settings,
    lots: lots.map(({ number, title, unit, likelyMinor }) => {
      const item = items.find((one) => one.lot === number)
      return {
        number,
        title,
        design: designOf.get(unit.slice(0, unit.lastIndexOf('-'))) ?? null,
        likelyMinor,
        announcedAt: item?.isAnnounced ? item.runsTo : null,
      }
    }),
  }
}

/** What was wished for lots on a day that they leave. */
export const dropWishes = (turn: Turn, lotIds: readonly string[]): void => store.deleteWishesOf(turn.db, lotIds)
