import { leastApart, placeName } from './places.rules'
import { type PlanQuestion, type Slot, STEPS_AN_HOUR } from './planning.contract'
import { bestSpans, hoursWithRoom, silentSpans } from './rhythm.rules'

interface Rhythm {
  question: PlanQuestion
  places: readonly (readonly Slot[])[]
  isFeasibilityOnly: boolean
  row(terms: string[], relation: string): void
}

/** Rows for crowds, silences and the best ones; answers the variables that take a cost off for each step too many. */
export function rhythmRows({ question, places, row, isFeasibilityOnly }: Rhythm): { name: string; cost: number }[] {
  const { closings, silence, bestApart, slots, mostAnHour } = question
  const closingsAt = Array.from({ length: slots + 1 }, (): string[] => [])
  for (const [index, own] of places.entries()) for (const slot of own) closingsAt[slot]?.push(placeName(index, slot))
  const within = (from: Slot, steps: Slot) =>
    Array.from({ length: steps }, (_, step) => from + step).flatMap((slot) => ((closingsAt[slot] ?? []).length > 0 ? [`y${slot}`] : []))
  // Of what keeps its distance anyway no hour can hold too many.
  const isLimited = mostAnHour > 0 && Math.ceil(STEPS_AN_HOUR / leastApart(closings)) > mostAnHour
  const isTimed = isLimited || question.announced.length > 0
  const hours = isTimed ? hoursWithRoom(question) : []
  const silent = isFeasibilityOnly ? [] : silentSpans(question)
  if (hours.length + silent.length > 0)
    for (const [slot, names] of closingsAt.entries()) if (names.length > 0) row([...names.map((name) => `+ ${name}`), `- y${slot}`], '= 0')
  for (const { from, room } of hours) {
    const names = within(from, STEPS_AN_HOUR)
    if (names.length > room)
      row(
        names.map((name) => `+ ${name}`),
        `<= ${room}`,
      )
  }
  const costs: { name: string; cost: number }[] = []
  for (const start of silence ? silent : []) {
    row([...within(start, silence?.longest ?? 0).map((name) => `+ ${name}`), `+ s${start}`], '>= 1')
    costs.push({ name: `s${start}`, cost: silence?.perStepMinor ?? 0 })
  }
  for (const [index, start] of (bestApart && !isFeasibilityOnly ? bestSpans(question) : []).entries()) {
    const near = places.flatMap((own, at) =>
      bestApart?.lots.includes(closings[at]?.lot ?? 0)
        ? own.filter((slot) => slot >= start && slot < start + bestApart.apart).map((slot) => `+ ${placeName(at, slot)}`)
        : [],
    )
    if (near.length < 2) continue
    row([...near, `- b${index}`], '<= 1')
    costs.push({ name: `b${index}`, cost: bestApart?.perStepMinor ?? 0 })
  }
  return costs
}
