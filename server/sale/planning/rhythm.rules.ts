import { type PlanQuestion, type Slot, STEPS_AN_HOUR } from './planning.contract'

// What makes a day that one would sit through: no long silence, no crowd, the best ones not beside each other.

/** The first slots of all spans that should not pass without a closing, but for those in which one is announced. */
export function silentSpans({ silence, slots, announced }: PlanQuestion): Slot[] {
  if (!silence) return []
  const { from, longest } = silence
  const first = Math.max(0, from)
  return Array.from({ length: Math.max(0, slots - longest + 2 - first) }, (_, index) => first + index).filter(
    (start) => !announced.some((one) => one >= start && one < start + longest),
  )
}

/** The first slots of spans in which no two of the best should stand; they reach past both ends, so that a pair costs the same anywhere. */
export const bestSpans = ({ bestApart, slots }: PlanQuestion): Slot[] =>
  bestApart && bestApart.apart > 1
    ? Array.from({ length: Math.max(0, slots + bestApart.apart - 2) }, (_, index) => index - bestApart.apart + 2)
    : []

/**
 * How many of the best close next after another of them. Over the slots a count goes up with each of the best and down with
 * each other closing, never below nothing; what it would rise above one is a pair without another between them.
 */
export function bestInARow({ bestApart, closings, announced, slots }: PlanQuestion, at: readonly Slot[]): number {
  let [count, pairs] = [0, 0]
  const isBest = (index: number) => bestApart?.lots.includes(closings[index]?.lot ?? 0)
  for (let slot = 0; slot <= slots; slot++) {
    const best = at.filter((one, index) => one === slot && isBest(index)).length
    const others = at.filter((one, index) => one === slot && !isBest(index)).length + announced.filter((one) => one === slot).length
    count = Math.max(0, count + best - others)
    pairs += Math.max(0, count - 1)
    count = Math.min(1, count)
  }
  return pairs
}

/** What silences that are too long, and best ones too near each other, take off a plan. */
export function rhythmPenalty(question: PlanQuestion, at: readonly Slot[]): number {
  const { silence, bestApart, closings } = question
  const silent = silence
    ? silentSpans(question).filter((start) => !at.some((slot) => slot >= start && slot < start + silence.longest)).length *
      silence.perStepMinor
    : 0
  if (!bestApart) return silent
  const best = at.filter((_, index) => bestApart.lots.includes(closings[index]?.lot ?? 0))
  const near = bestSpans(question).reduce(
    (sum, start) => sum + Math.max(0, best.filter((slot) => slot >= start && slot < start + bestApart.apart).length - 1),
    0,
  )
  return silent + near * bestApart.perStepMinor + bestInARow(question, at) * bestApart.nextMinor
}

/** Hours that may hold so many more closings, less those that were announced; only those that more could stand in. */
export function hoursWithRoom({ mostAnHour, slots, announced }: PlanQuestion): { from: Slot; room: number }[] {
  if (mostAnHour === 0) return []
  return Array.from({ length: slots + 1 }, (_, from) => ({
    from,
    room: Math.max(0, mostAnHour - announced.filter((one) => one >= from && one < from + STEPS_AN_HOUR).length),
  }))
}

/** Whether some hour holds more closings than it may. */
export const isCrowded = (question: PlanQuestion, at: readonly Slot[]): boolean =>
  hoursWithRoom(question).some(({ from, room }) => at.filter((slot) => slot >= from && slot < from + STEPS_AN_HOUR).length > room)

/** The most steps that pass without a closing, from now or the opening to the end of the stream. */
export function longestSilence({ silence, slots, announced }: PlanQuestion, at: readonly Slot[]): Slot {
  const from = silence?.from ?? 0
  const points = [from, ...[...at, ...announced].filter((slot) => slot >= from), slots].sort((a, b) => a - b)
  return Math.max(0, ...points.slice(1).map((slot, index) => slot - (points[index] ?? 0)))
}
