import { MINUTE } from '#kernel/instant'
import { seededChance } from '#kernel/seeded'
import { often } from './chance.rules'
import { playDay } from './day.rules'
import type { ClosingRisk, DayNews, DayQuestion, DayRisk } from './simulation.contract'

/** Minutes after its time in which a closing is counted; the last holds whatever was later. */
const SPREAD_MINUTES = 31
const TELL_EVERY = 250

/** Plays the day many times over and counts. The same question has the same answer: chance is drawn from its seed. */
export function playManyDays(question: DayQuestion, tell: (news: DayNews) => void = () => {}): DayRisk {
  const { days, closings, likely, closesAt } = question
  const chance = seededChance(question.seed)
  const tallies = closings.map(() => ({ collides: 0, squeezed: 0, over: 0, sum: 0, squares: 0, delays: new Float64Array(days) }))
  const done = new Float64Array(days)
  let dayOver = 0
  let anyCollision = 0
  for (let day = 0; day < days; day++) {
    const played = playDay(question, chance)
    for (const [index, tally] of tallies.entries()) {
      const delay = (played.closedAt[index] ?? 0) - (closings[index]?.at ?? 0)
      if (played.collides[index]) tally.collides++
      if (played.squeezed[index]) tally.squeezed++
      if (delay > likely.allowanceMs) tally.over++
      tally.sum += delay
      tally.squares += delay * delay
      tally.delays[day] = delay
    }
    if (played.collides.some(Boolean)) anyCollision++
    if (played.doneAt > closesAt) dayOver++
    done[day] = played.doneAt
    if ((day + 1) % TELL_EVERY === 0) tell({ played: day + 1 })
  }
  const risks = tallies.map(({ collides, squeezed, over, sum, squares, delays }, index): ClosingRisk => {
    const mean = sum / days
    return {
      lot: closings[index]?.lot ?? 0,
      at: closings[index]?.at ?? 0,
      collides: often(collides, days),
      squeezed: often(squeezed, days),
      over: often(over, days),
      delayMs: mean,
      delayErrorMs: Math.sqrt(Math.max(0, squares / days - mean * mean) / days),
      delayNinetyMs: most(delays, 0.9),
      spread: spreadOf(delays),
    }
  })
  const roomMs = Math.max(0, ...tallies.map(({ delays }) => most(delays, likely.enoughShare)))
  return { closings: risks, dayOver: often(dayOver, days), anyCollision: often(anyCollision, days), doneNinety: most(done, 0.9), roomMs }
}

/** What this share of the values does not exceed. */
const most = (values: Float64Array, share: number): number => values.slice().sort()[Math.ceil(values.length * share) - 1] ?? 0

function spreadOf(delays: Float64Array): number[] {
  const counts = Array.from({ length: SPREAD_MINUTES }, () => 0)
  for (const delay of delays) {
    const minute = Math.min(SPREAD_MINUTES - 1, Math.floor(delay / MINUTE))
    counts[minute] = (counts[minute] ?? 0) + 1
  }
  return counts
}
