import type { Closing, Plan, PlanQuestion, Slot, Wish } from './planning.contract'

/** What the wishes do for one way of asking: kept as they are, one left out, one made a pin, none at all. */
export interface Asking {
  wishes: readonly Wish[]
  /** Only whether there is a plan at all, at no price. */
  isFeasibilityOnly?: boolean
}

const name = (closing: number, slot: Slot) => `x${closing}_${slot}`

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

/** What a closing at a slot is worth to the plan: money, wishes kept by it, and how far the best lot is from its place. */
export function worthOf(question: PlanQuestion, closing: Closing, slot: Slot, wishes: readonly Wish[]): number {
  const kept = wishes
    .filter(({ lot, kind, isPin, from, to }) => !isPin && kind === 'within' && lot === closing.lot && slot >= from && slot <= to)
    .reduce((sum, { weightMinor }) => sum + weightMinor, 0)
  return (closing.value[slot] ?? 0) + kept - placePenalty(question, closing, slot)
}

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
export function lpOf(question: PlanQuestion, { wishes, isFeasibilityOnly = false }: Asking): string {
  const { closings } = question
  const free = closings.map((closing) => slotsOf(question, closing, wishes))
  const rows: string[] = []
  const row = (terms: string[], relation: string) => {
    if (terms.length > 0) rows.push(`r${rows.length}: ${terms.join(' ')} ${relation}`)
  }
  for (const [index, slots] of free.entries()) {
    // A closing without any slot makes the program infeasible, in words of its own.
    row(slots.length > 0 ? slots.map((slot) => `+ ${name(index, slot)}`) : ['+ nowhere'], '= 1')
  }
  for (let step = 0; step < question.slots + 1; step++) {
    const sharing = free.flatMap((slots, index) => {
      const closing = closings[index]
      if (!closing) return []
      return slots.filter((slot) => slot - closing.before <= step && step < slot + closing.after).map((slot) => `+ ${name(index, slot)}`)
    })
    if (sharing.length > 1) row(sharing, '<= 1')
  }
  for (const group of likeGroups(closings)) {
    for (let from = 0; question.likeApart > 0 && from <= question.slots; from++) {
      const near = group.flatMap((index) =>
        (free[index] ?? []).filter((slot) => slot >= from && slot < from + question.likeApart).map((slot) => `+ ${name(index, slot)}`),
      )
      if (near.length > 1) row(near, '<= 1')
    }
  }
  const extra = orderRows({ question, wishes, free, row })
  const worth = isFeasibilityOnly
    ? ['0 nowhere']
    : free.flatMap((slots, index) =>
        slots.map((slot) => signed(worthOf(question, closings[index] as Closing, slot, wishes), name(index, slot))),
      )
  const binaries = [...free.flatMap((slots, index) => slots.map((slot) => name(index, slot))), ...extra.binaries]
  return [
    'Maximize',
    `obj: ${[...worth, ...(isFeasibilityOnly ? [] : extra.worth)].join(' ') || '0 nowhere'}`,
    'Subject To',
    ...rows,
    'Bounds',
    '0 <= nowhere <= 0',
    'Binary',
    binaries.join(' '),
    'End',
  ].join('\n')
}

const signed = (factor: number, variable: string) => `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} ${variable}`

function likeGroups(closings: readonly Closing[]): number[][] {
  const groups = new Map<string, number[]>()
  for (const [index, { design }] of closings.entries()) if (design !== null) groups.set(design, [...(groups.get(design) ?? []), index])
  return [...groups.values()].filter((group) => group.length > 1)
}

interface Ordering {
  question: PlanQuestion
  wishes: readonly Wish[]
  free: Slot[][]
  row(terms: string[], relation: string): void
}

/** Rows for "this one last" and "not the first", all of binaries and without equations. */
function orderRows({ question: { closings, slots, announced }, wishes, free, row }: Ordering) {
  const extra = { worth: [] as string[], binaries: [] as string[] }
  for (const [at, wish] of wishes.entries()) {
    const own = closings.findIndex(({ lot }) => lot === wish.lot)
    if (wish.kind === 'within' || own < 0) continue
    const kept = wish.isPin ? [] : [`+ w${at}`]
    if (!wish.isPin) {
      extra.binaries.push(`w${at}`)
      extra.worth.push(signed(wish.weightMinor, `w${at}`))
    }
    // Alone it is first and last.
    if (closings.length + announced.length < 2) continue
    const ownSlots = free[own] ?? []
    const othersAt = (slot: Slot) => free.flatMap((others, index) => (index !== own && others.includes(slot) ? [name(index, slot)] : []))
    if (wish.kind === 'last') {
      // Of others at a slot there is one at most; where there is one, or an announced one, this has not closed by then.
      for (let slot = 0; slot <= slots; slot++) {
        const here = announced.includes(slot)
        const others = othersAt(slot).map((one) => `+ ${one}`)
        const closed = ownSlots.filter((one) => one <= slot).map((one) => `+ ${name(own, one)}`)
        if (closed.length > 0 && (here || others.length > 0))
          row([...closed, ...(here ? [] : others), ...kept], `<= ${1 - Number(here) + kept.length}`)
      }
      continue
    }
    // A flag for each slot, which may be up only once another has closed before; this one needs it up where it closes.
    let before: string | null = null
    for (let slot = 0; slot <= slots && !announced.some((one) => one < slot); slot++) {
      const others = slot > 0 ? othersAt(slot - 1) : []
      if (others.length > 0) {
        const flag = `p${at}_${slot}`
        extra.binaries.push(flag)
        row([`+ ${flag}`, ...[...(before ? [before] : []), ...others].map((one) => `- ${one}`)], '<= 0')
        before = flag
      }
      if (ownSlots.includes(slot)) row([`+ ${name(own, slot)}`, ...kept, ...(before ? [`- ${before}`] : [])], `<= ${kept.length}`)
    }
  }
  return extra
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
  const broken = wishes.find((wish) => wish.isPin && !keeps(question, at, wish))
  return broken ? `the pin "${broken.words}" is not kept` : null
}

/** What a plan comes to: money, kept wishes, and what the solver made as large as it can be. */
export function planOf(question: PlanQuestion, at: Slot[], wishes: readonly Wish[]): Plan & { worth: number } {
  const { closings } = question
  const kept = wishes.filter((wish) => keeps(question, at, wish))
  const expectedMinor = closings.reduce((sum, { value }, index) => sum + (value[at[index] ?? 0] ?? 0), 0)
  const penalty = closings.reduce((sum, closing, index) => sum + placePenalty(question, closing, at[index] ?? 0), 0)
  const wished = kept.reduce((sum, { isPin, weightMinor }) => sum + (isPin ? 0 : weightMinor), 0)
  return { at, expectedMinor, keptWishes: kept.map(({ id }) => id), worth: expectedMinor + wished - penalty }
}
