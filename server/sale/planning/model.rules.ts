import { leastApart, placeName, placesOf, slotsOf } from './places.rules'
import type { Closing, Plan, PlanQuestion, Slot, Wish } from './planning.contract'
import { isCrowded, rhythmPenalty } from './rhythm.rules'
import { rhythmRows } from './rhythm-rows.rules'

/** One way of asking: of wishes for an order only pins have rows; the others are branched on outside. */
export interface Asking {
  wishes: readonly Wish[]
  /** Only whether there is a plan at all, at no price. */
  isFeasibilityOnly?: boolean
  /** Without whole numbers: its answer bounds the plan and prices every place. */
  isRelaxed?: boolean
  /** The places of each closing that are let in; all that are free where it is left out. */
  places?: readonly (readonly Slot[])[]
}

/** All early slots together count for less than this, in minor units: of plans of one worth the earlier is taken. */
const EARLY = 0.09

/** What a closing at a slot is worth to the plan: money, wishes kept by it, and how far the best lot is from its place. */
export function worthOf(question: PlanQuestion, closing: Closing, slot: Slot, wishes: readonly Wish[]): number {
  const kept = wishes
    .filter(({ lot, kind, isPin, from, to }) => !isPin && kind === 'within' && lot === closing.lot && slot >= from && slot <= to)
    .reduce((sum, { weightMinor }) => sum + weightMinor, 0)
  return (closing.value[slot] ?? 0) + kept + riseOf(question, closing, slot) - placePenalty(question, closing, slot)
}

/** What its place in the crescendo is worth to a closing. */
export const riseOf = ({ slots }: PlanQuestion, { riseMinor }: Closing, slot: Slot): number =>
  Math.round((riseMinor * slot) / Math.max(1, slots))

export function placePenalty({ best, slots, closings }: PlanQuestion, closing: Closing, slot: Slot): number {
  if (!best || closing.lot !== dearest(closings)?.lot) return 0
  return Math.round(Math.abs(slot - best.share * slots) * best.perStepMinor)
}

/** The lot of the highest estimate; the lower number where two are alike. */
export function dearest(closings: readonly Closing[]): Closing | null {
  return closings.reduce<Closing | null>(
    (best, one) =>
      best === null || one.estimateMinor > best.estimateMinor || (one.estimateMinor === best.estimateMinor && one.lot < best.lot)
        ? one
        : best,
    null,
  )
}

/**
 * The day as a time-indexed mixed-integer program in LP format: one binary for each closing and slot; a row for each
 * step of the grid, of which any two closings that would share it exclude each other; the same for windows of like units.
 */
export function lpOf(question: PlanQuestion, asking: Asking): string {
  const { closings } = question
  const { wishes, isFeasibilityOnly = false, isRelaxed = false, places = placesOf(question, wishes) } = asking
  const rows: string[] = []
  const row = (terms: string[], relation: string) => {
    if (terms.length > 0) rows.push(`r${rows.length}: ${terms.join(' ')} ${relation}`)
  }
  for (const [index, slots] of places.entries()) {
    // A closing without any slot makes the program infeasible, in words of its own.
    row(slots.length > 0 ? slots.map((slot) => `+ ${placeName(index, slot)}`) : ['+ nowhere'], '= 1')
  }
  for (let step = 0; step < question.slots + 1; step++) {
    const sharing = places.flatMap((slots, index) => {
      const closing = closings[index]
      if (!closing) return []
      return slots
        .filter((slot) => slot - closing.before <= step && step < slot + closing.after)
        .map((slot) => `+ ${placeName(index, slot)}`)
    })
    if (sharing.length > 1) row(sharing, '<= 1')
  }
  for (const group of likeGroups(closings)) {
    for (let from = 0; question.likeApart > 0 && from <= question.slots; from++) {
      const near = group.flatMap((index) =>
        (places[index] ?? [])
          .filter((slot) => slot >= from && slot < from + question.likeApart)
          .map((slot) => `+ ${placeName(index, slot)}`),
      )
      if (near.length > 1) row(near, '<= 1')
    }
  }
  const rhythm = rhythmRows({ question, places, row, isFeasibilityOnly })
  const flags = wishes.flatMap((wish, at) => (wish.isPin ? orderRows({ question, wish, at, places, row }) : []))
  const early = EARLY / Math.max(1, closings.length * question.slots)
  const worth = isFeasibilityOnly
    ? ['0 nowhere']
    : places
        .flatMap((slots, index) =>
          slots.map((slot) => signed(worthOf(question, closings[index] as Closing, slot, wishes) - early * slot, placeName(index, slot))),
        )
        .concat(rhythm.filter(({ cost }) => cost > 0).map(({ name, cost }) => signed(-cost, name)))
  const binaries = places.flatMap((slots, index) => slots.map((slot) => placeName(index, slot)))
  return [
    'Maximize',
    `obj: ${worth.join(' ') || '0 nowhere'}`,
    'Subject To',
    ...rows,
    'Bounds',
    '0 <= nowhere <= 0',
    ...flags.map((flag) => `0 <= ${flag} <= 1`),
    ...rhythm.map(({ name, most }) => (most === undefined ? `${name} >= 0` : `0 <= ${name} <= ${most}`)),
    ...(isRelaxed ? [] : ['Binary', binaries.join(' ')]),
    'End',
  ].join('\n')
}

const signed = (factor: number, variable: string) => `${factor < 0 ? '-' : '+'} ${Math.abs(factor).toFixed(8)} ${variable}`

function likeGroups(closings: readonly Closing[]): number[][] {
  const groups = new Map<string, number[]>()
  for (const [index, { design }] of closings.entries()) if (design !== null) groups.set(design, [...(groups.get(design) ?? []), index])
  return [...groups.values()].filter((group) => group.length > 1)
}

interface Ordering {
  question: PlanQuestion
  wish: Wish
  /** Its place among the wishes, for the names of its flags. */
  at: number
  places: readonly (readonly Slot[])[]
  row(terms: string[], relation: string): void
}

/** Rows for a pin on "last" or "not the first"; answers the flags that they need. */
function orderRows({ question: { closings, slots, announced }, wish, at, places, row }: Ordering): string[] {
  const own = closings.findIndex(({ lot }) => lot === wish.lot)
  // Alone it is first and last.
  if (wish.kind === 'within' || own < 0 || closings.length + announced.length < 2) return []
  const apart = leastApart(closings)
  const othersIn = (from: Slot, to: Slot) =>
    places.flatMap((others, index) =>
      index === own ? [] : others.filter((slot) => slot >= from && slot <= to).map((slot) => placeName(index, slot)),
    )
  const ownUpTo = (slot: Slot) => (places[own] ?? []).filter((one) => one <= slot).map((one) => `+ ${placeName(own, one)}`)
  if (wish.kind === 'last') {
    // Of others in so many steps there is one at most; where there is one, this has not closed by their end.
    for (let slot = 0; slot <= slots; slot++) {
      const [closed, others] = [ownUpTo(slot + apart - 1), othersIn(slot, slot + apart - 1)]
      if (closed.length > 0 && others.length > 0) row([...closed, ...others.map((one) => `+ ${one}`)], '<= 1')
    }
    return []
  }
  // A flag for each slot, which is up only once another has closed early enough before it.
  const flags: string[] = []
  for (let slot = 0; slot <= slots && !announced.some((one) => one < slot); slot++) {
    const flag = `p${at}_${slot}`
    const rises = [...flags.slice(-1), ...othersIn(slot - apart, slot - apart)]
    row([`+ ${flag}`, ...rises.map((one) => `- ${one}`)], '<= 0')
    flags.push(flag)
    const closed = ownUpTo(slot)
    if (closed.length > 0) row([...closed, `- ${flag}`], '<= 0')
  }
  return flags
}

/** Whether a plan keeps a wish. */
export function keeps({ closings, announced }: PlanQuestion, at: readonly Slot[], wish: Wish): boolean {
  const own = closings.findIndex(({ lot }) => lot === wish.lot)
  const slot = at[own]
  if (slot === undefined) return true
  const others = [...at.filter((_, index) => index !== own), ...announced]
  if (wish.kind === 'within') return slot >= wish.from && slot <= wish.to
  if (others.length === 0) return true
  return wish.kind === 'last' ? others.every((other) => other < slot) : others.some((other) => other < slot)
}

/** Why a plan cannot stand, in words for whoever writes the program; null when it can. The solver's answer is held against it. */
export function faultIn(question: PlanQuestion, at: readonly Slot[], wishes: readonly Wish[]): string | null {
  const { closings, likeApart } = question
  for (const [index, closing] of closings.entries()) {
    const slot = at[index]
    if (slot === undefined || !slotsOf(question, closing, wishes).includes(slot)) return `lot ${closing.lot} cannot close at ${slot}`
    for (const [other, second] of closings.entries()) {
      const there = at[other] ?? 0
      if (other <= index) continue
      const [early, late] = slot <= there ? [closing, second] : [second, closing]
      if (Math.min(slot, there) + early.after > Math.max(slot, there) - late.before)
        return `lots ${closing.lot} and ${second.lot} share a step`
      if (closing.design !== null && closing.design === second.design && Math.abs(slot - there) < likeApart)
        return `lots ${closing.lot} and ${second.lot} are alike and too near`
    }
  }
  if (isCrowded(question, at)) return 'too many close in an hour'
  const broken = wishes.find((wish) => wish.isPin && !keeps(question, at, wish))
  return broken ? `the pin "${broken.words}" is not kept` : null
}

/** What a plan comes to: money, kept wishes, and what the solver made as large as it can be. */
export function planOf(question: PlanQuestion, at: Slot[], wishes: readonly Wish[]): Plan & { worth: number } {
  const { closings } = question
  const kept = wishes.filter((wish) => keeps(question, at, wish))
  const expectedMinor = closings.reduce((sum, { value }, index) => sum + (value[at[index] ?? 0] ?? 0), 0)
  const penalty = closings.reduce((sum, closing, index) => sum + placePenalty(question, closing, at[index] ?? 0), 0)
  const rise = closings.reduce((sum, closing, index) => sum + riseOf(question, closing, at[index] ?? 0), 0)
  const wished = kept.reduce((sum, { isPin, weightMinor }) => sum + (isPin ? 0 : weightMinor), 0)
  return {
    at,
    expectedMinor,
    keptWishes: kept.map(({ id }) => id),
    worth: expectedMinor + wished + rise - penalty - rhythmPenalty(question, at),
  }
}
