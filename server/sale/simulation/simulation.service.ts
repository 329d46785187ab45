import type { z } from 'zod'
import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { StreamDay } from '#people/campaign/stream-days.rules'
import { dayOf, getDay } from '#people/campaign/stream-days.service'
import type { Sight } from '#runtime/queue/turn'
import { followersOf } from '../bidding/followers.service'
import { listLots } from '../lots/lots.service'
import { USUAL_LATE_BID } from '../price/late-bid.rules'
import { listItemsOfDay } from '../programme/programme.service'
import type { Basis, DayQuestion, Likely, playIn, SimulationView } from './simulation.contract'
import type { Simulator } from './simulator'

/** So that the same day under the same figures has the same answer. */
const SEED = 1

/** Of those who watch, the share that follows the average lot. Common practice, no source. */
const OF_WATCHERS = 0.05

/** Begins to play the day many times over; how far it is can be read at any time. */
export function startSimulation(sight: Sight, simulator: Simulator, input: z.output<typeof playIn>): void {
  const likely: Likely = {
    bidsForEachFollower: input.ofTen / 10,
    watchers: input.watchers,
    leftAfterExtension: input.left / 100,
    guestOver: { share: input.guestPercent / 100, meanMs: Math.max(1, input.guestMinutes * MINUTE) },
    lost: { perHour: input.lostHours === 0 ? 0 : 1 / input.lostHours, meanMs: Math.max(1, input.lostMinutes * MINUTE) },
    allowanceMs: input.allowance * MINUTE,
    enoughShare: input.enough / 100,
  }
  const question = questionOf(sight, getDay(sight, input.day), likely, input.days)
  if (question.closings.length === 0)
    throw new Refusal('conflict', 'No closing is still to come, so there is no day to play. Put closings into the day first.')
  simulator.start(question)
}

/** The day as it is to be played: what has not closed, each lot with the interest that its followers promise. */
function questionOf(sight: Sight, day: StreamDay, likely: Likely, days: number): DayQuestion {
  const lots = listLots(sight)
  const rules = new Map(lots.map(({ number, lateBid }) => [number, lateBid]))
  const coming = listItemsOfDay(sight, day).filter(({ isOver }) => !isOver)
  const numbers = coming.flatMap(({ lot }) => lot ?? [])
  const followers = new Map(numbers.map((lot) => [lot, followersOf(sight, lot).length]))
  const estimates = new Map(
    lots.flatMap(({ number, likelyMinor }) => (likelyMinor && numbers.includes(number) ? [[number, likelyMinor]] : [])),
  )
  const isFollowed = [...followers.values()].some((count) => count > 0)
  const basis: Basis = isFollowed ? 'followers' : estimates.size > 0 ? 'estimates' : 'watchers'
  const average = [...estimates.values()].reduce((sum, one) => sum + one, 0) / Math.max(1, estimates.size)
  // Whoever follows nothing yet may come: one at least is reckoned for each lot.
  const interestOf = (lot: number) =>
    Math.max(
      1,
      isFollowed ? (followers.get(lot) ?? 0) : likely.watchers * OF_WATCHERS * ((estimates.get(lot) ?? average) / (average || 1) || 1),
    )
  return {
    from: Math.max(sight.now, day.opensAt),
    closesAt: day.closesAt,
    closings: coming
      .flatMap(({ lot, runsTo }) =>
        lot === null
          ? []
          : [
              {
                lot,
                at: runsTo,
                lateBid: rules.get(lot) ?? USUAL_LATE_BID,
                lateBids: likely.bidsForEachFollower * interestOf(lot),
              },
            ],
      )
      .sort((a, b) => a.at - b.at),
    spans: coming.flatMap(({ kind, title, startsAt, endsAt, keepsTime }) =>
      kind === 'closing' ? [] : [{ kind, title, from: startsAt, to: endsAt, keepsTime }],
    ),
    basis,
    likely,
    days,
    seed: SEED,
  }
}

/** What was played of a stream day; null where it was another one that was played last, or none. */
export function readSimulation(sight: Sight, simulator: Simulator, number?: number): SimulationView | null {
  const present = simulator.present()
  if (!present) return null
  const { question, state, played, risk } = present
  const day = getDay(sight, number)
  if (dayOf(sight, question.from).number !== day.number) return null
  const now = questionOf(sight, day, question.likely, question.days)
  const times = ({ closings, spans, closesAt }: DayQuestion) =>
    JSON.stringify([closings.map(({ lot, at, lateBid }) => [lot, at, lateBid]), spans, closesAt])
  const { basis, closings, spans } = question
  const parts = closings.length + spans.length
  return { state, played, days: question.days, likely: question.likely, risk, basis, parts, isStale: times(now) !== times(question) }
}
