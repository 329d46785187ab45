import { leastApart, placeName } from './places.rules'
import { type PlanQuestion, type Slot, STEPS_AN_HOUR } from './planning.contract'
import { bestSpans, hoursWithRoom, silentSpans } from './rhythm.rules'

interface Rhythm {
  question: PlanQuestion
  places: readonly (readonly Slot[])[]
  isFeasibilityOnly: boolean
  row(terms: string[], relation: string): void
}

export interface RhythmVariable {
  name: string
  cost: number
  /** It goes no higher. */
  most?: number
}

/** Rows for crowds, silences and the best ones; answers their variables, with what each takes off. */
export function rhythmRows({ question, places, row, isFeasibilityOnly }: Rhythm): RhythmVariable[] {
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
  const costs: RhythmVariable[] = []
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
  return [...costs, ...(isFeasibilityOnly ? [] : rowsForPairs({ question, places, row }))]
}

/**
 * The count of `bestInARow`, over the slots at which something can close: it bounds at once, for every span of the day, how
 * many more of the best than of the others stand in it.
 */
function rowsForPairs({ question, places, row }: Omit<Rhythm, 'isFeasibilityOnly'>): RhythmVariable[] {
  const { bestApart, closings, announced, slots } = question
  if (!bestApart || bestApart.nextMinor === 0) return []
  const isBest = closings.map(({ lot }) => bestApart.lots.includes(lot))
  if (isBest.filter(Boolean).length < 2) return []
  const variables: RhythmVariable[] = []
  let before: string[] = []
  for (let slot = 0; slot <= slots; slot++) {
    const here = places.flatMap((own, at) => (own.includes(slot) ? [{ name: placeName(at, slot), isBest: isBest[at] }] : []))
    const fixed = announced.filter((one) => one === slot).length
    if (here.length + fixed === 0) continue
    const [count, pair] = [`n${slot}`, `d${slot}`]
    const terms = here.map((one) => `${one.isBest ? '-' : '+'} ${one.name}`)
    row([`+ ${count}`, ...before.map((name) => `- ${name}`), ...terms, `+ ${pair}`], `>= ${-fixed}`)
    variables.push({ name: count, cost: 0, most: 1 }, { name: pair, cost: bestApart.nextMinor })
    before = [count]
  }
  return variables
}
