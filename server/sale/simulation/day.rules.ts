import type { Instant } from '#kernel/instant'
import type { Chance } from '#kernel/seeded'
import { goingOn } from '../programme/going-on.rules'
import { AFTER_CLOSING, BEFORE_CLOSING } from '../programme/programme.rules'
import type { ItemOfDay } from '../programme/ripple.rules'
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
 * guests talk too long. Clocks follow the house's own rules, so that a hold uses up the gaps and runs into nothing.
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
    goOn(going, spans, { since: lostAt, now: backAt, closesAt: question.closesAt })
    for (const one of open) one.from = backAt
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

/** The clocks stood from `since` and go on now: closings, guests and breaks go where the house would put them. */
function goOn(going: Going[], spans: DayQuestion['spans'], { since, now, closesAt }: { since: Instant; now: Instant; closesAt: Instant }) {
  const item = (id: string, kind: ItemOfDay['kind'], from: Instant, to: Instant, keepsTime = false): ItemOfDay => {
    return { id, kind, title: '', startsAt: from, endsAt: to, isAnnounced: true, isOver: to <= since, keepsTime }
  }
  const closings = going.map((one, index) => item(`closing ${index}`, 'closing', one.closesAt, one.closesAt))
  const rest = spans.map(({ kind, from, to, keepsTime }, index) => item(`span ${index}`, kind, from, to, keepsTime))
  const stood = new Set(closings.filter(({ isOver }) => !isOver).map(({ id }) => id))
  const { moves } = goingOn({ items: [...closings, ...rest], stood, since, now, window: { opensAt: 0, closesAt } })
  for (const { id, startsAt, endsAt } of moves) {
    const [kind, index] = id.split(' ')
    const [closing, span] = [going[Number(index)], spans[Number(index)]]
    if (kind === 'closing' && closing) {
      closing.plannedAt += startsAt - closing.closesAt
      closing.closesAt = startsAt
    } else if (span) Object.assign(span, { from: startsAt, to: endsAt })
  }
}
