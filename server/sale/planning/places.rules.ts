import type { Closing, PlanQuestion, Slot, Wish } from './planning.contract'

/** The variable that says that a closing stands at a slot. */
export const placeName = (closing: number, slot: Slot) => `x${closing}_${slot}`

/** The slots at which a closing may stand: in the stream, not too early, clear of what is taken, within its pins. */
export function slotsOf(question: PlanQuestion, closing: Closing, wishes: readonly Wish[]): Slot[] {
  const pins = wishes.filter(({ lot, kind, isPin }) => isPin && kind === 'within' && lot === closing.lot)
  const free: Slot[] = []
  for (let slot = Math.max(closing.before, closing.earliest); slot <= question.slots; slot++) {
    const isClear = question.taken.every(({ from, to }) => slot + closing.after <= from || slot - closing.before >= to)
    const isBarred = closing.barred.some(({ from, to }) => slot >= from && slot < to)
    if (isClear && !isBarred && pins.every(({ from, to }) => slot >= from && slot <= to)) free.push(slot)
  }
  return free
}

/** The least number of steps between two closings. */
export const leastApart = (closings: readonly Closing[]): Slot =>
  Math.max(1, Math.min(...closings.map(({ after }) => after)) + Math.min(...closings.map(({ before }) => before)))

/** Where each closing may stand, less what a pin for an order rules out beforehand. */
export function placesOf(question: PlanQuestion, wishes: readonly Wish[]): Slot[][] {
  const { closings, announced } = question
  let places = closings.map((closing) => slotsOf(question, closing, wishes))
  for (const { lot } of wishes.filter(({ kind, isPin }) => kind === 'last' && isPin)) {
    const own = closings.findIndex((closing) => closing.lot === lot)
    const mine = closings[own]
    if (!mine || closings.length + announced.length < 2) continue
    const others = places.filter((_, index) => index !== own)
    const from = Math.max(earliestEnd(others, leastApart(closings)), ...announced.map((one) => one + 1))
    const to = Math.max(-1, ...(places[own] ?? []))
    places = places.map((slots, index) =>
      slots.filter((slot) => (index === own ? slot >= from : slot + (closings[index]?.after ?? 0) + mine.before <= to)),
    )
  }
  return places
}

/** The first slot at which one more may close when all of these have, packed as tightly as their places let them. */
function earliestEnd(places: readonly (readonly Slot[])[], apart: Slot): Slot {
  const all = [...new Set(places.flat())].sort((a, b) => a - b)
  let next = 0
  for (const _ of places) {
    const slot = all.find((one) => one >= next)
    if (slot === undefined) return Number.POSITIVE_INFINITY
    next = slot + apart
  }
  return next
}
