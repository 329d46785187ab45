import type { Instant } from '#kernel/instant'
import type { Chance } from '#kernel/seeded'
import { shiftAfterHold } from '../price/closing.rules'
import { AFTER_CLOSING, BEFORE_CLOSING } from '../programme/programme.rules'
import { type LateBidding, playLateBids, waitOf } from './late-bids.rules'
import type { DayQuestion } from './simulation.contract'

/** How one day went; the lists are in the order of the question's closings. */
export interface PlayedDay {
  closedAt: Instant[]
  collides: boolean[]
  squeezed: boolean[]
  doneAt: Instant
}

interface Going extends LateBidding {
  /** Its time on the programme, moved by holds and by nothing else. */
  plannedAt: Instant
}

/**
 * Plays one day as if the host changed nothing: bids come late, the stream is lost and all clocks are held until it is back,
 * guests talk too long. Clocks follow the house's own rules, so that a hold keeps the gaps and only what is fixed is run into.
 */
export function playDay(question: DayQuestion, chance: Chance): PlayedDay {
  const { closings, likely, from } = question
  const going = closings.map(
    ({ at, lateBid }): Going => ({ closesAt: at, plannedAt: at, from, extensions: 0, ...(lateBid && { lateBid }) }),
  )
  const spans = question.spans.map((span) => ({ ...span }))
  let clock = from
  for (let open = going; open.length > 0; ) {
    const lostAt = likely.lost.perHour === 0 ? Number.POSITIVE_INFINITY : clock + waitOf(3_600_000 / likely.lost.perHour, chance)
    for (const [index, one] of going.entries()) {
      if (one.closesAt > clock) playLateBids(one, closings[index]?.lateBids ?? 0, likely.leftAfterExtension, lostAt, chance)
    }
    open = open.filter(({ closesAt }) => closesAt > lostAt)
    if (open.length === 0) break
    const backAt = lostAt + waitOf(likely.lost.meanMs, chance)
    const shift = shiftAfterHold(lostAt, backAt, Math.min(...open.map(({ closesAt }) => closesAt)))
    for (const one of open) {
      one.closesAt += shift
      one.plannedAt += shift
      one.from = backAt
    }
    for (const span of spans) {
      if (span.keepsTime || span.to <= lostAt) continue
      if (span.from > lostAt) span.from += shift
      span.to += shift
    }
    clock = backAt
  }
  const over = spans.map(({ kind }) =>
    kind === 'guest' && chance() < likely.guestOver.share ? waitOf(likely.guestOver.meanMs, chance) : 0,
  )
  const collides = going.map(({ plannedAt, closesAt }, index) => {
    const clearAt = closesAt + AFTER_CLOSING
    const next = going.some((other) => other.plannedAt > plannedAt && other.plannedAt - BEFORE_CLOSING < clearAt)
    // A break that was to come after it and keeps its time may be in the way of all of it.
    const cameAfter = (closings[index]?.at ?? 0) + AFTER_CLOSING
    return (
      next ||
      spans.some(({ kind, from: begins }, at) => kind === 'break' && (question.spans[at]?.from ?? 0) >= cameAfter && begins < clearAt)
    )
  })
  const squeezed = going.map(({ plannedAt }) => {
    const begins = plannedAt - BEFORE_CLOSING
    return spans.some(({ kind, to }, index) => kind === 'guest' && to <= begins && to + (over[index] ?? 0) > begins)
  })
  const ends = [...going.map(({ closesAt }) => closesAt + AFTER_CLOSING), ...spans.map(({ to }, index) => to + (over[index] ?? 0))]
  return { closedAt: going.map(({ closesAt }) => closesAt), collides, squeezed, doneAt: Math.max(...ends) }
}
