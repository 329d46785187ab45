import { type Instant, MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import { leftUntil } from '../price/closing.rules'

export const ITEM_KINDS = ['closing', 'guest', 'break'] as const
export type ItemKind = (typeof ITEM_KINDS)[number]

/** Minutes that the host needs before and after a closing. Common practice: 10 and 5. */
export const BEFORE_CLOSING = 10 * MINUTE
export const AFTER_CLOSING = 5 * MINUTE

/** The shortest guest or break worth planning, and the longest. Common practice. */
export const SHORTEST = 5 * MINUTE
export const LONGEST = 12 * 60 * MINUTE

/** What stands in the programme. A closing is an instant: it starts and ends when its lot closes. */
export interface PlannedItem {
  id: string
  kind: ItemKind
  title: string
  startsAt: Instant
  endsAt: Instant
  isAnnounced: boolean
}

export interface Window {
  opensAt: Instant
  closesAt: Instant
}

/** What an item keeps for itself of the day: a closing the minutes about it, the others their own span. */
export function slotOf(item: Pick<PlannedItem, 'kind' | 'startsAt' | 'endsAt'>): { from: Instant; to: Instant } {
  return item.kind === 'closing'
    ? { from: item.startsAt - BEFORE_CLOSING, to: item.endsAt + AFTER_CLOSING }
    : { from: item.startsAt, to: item.endsAt }
}

/** A guest may stay through closings, that is what guests are for; everything else stands alone. */
function mayShare(a: ItemKind, b: ItemKind): boolean {
  return (a === 'guest' && b === 'closing') || (a === 'closing' && b === 'guest')
}

/** The first item of `others` whose slot overlaps that of `item`; slots that only touch do not overlap. */
export function findClash(item: PlannedItem, others: readonly PlannedItem[]): PlannedItem | null {
  const slot = slotOf(item)
  const clashing = others
    .filter((other) => other.id !== item.id && !mayShare(item.kind, other.kind))
    .filter((other) => slot.from < slotOf(other).to && slotOf(other).from < slot.to)
    .sort((a, b) => a.startsAt - b.startsAt)
  return clashing[0] ?? null
}

export interface Objection {
  field: 'at' | 'minutes'
  words: string
}

export interface PlanQuestion {
  item: PlannedItem
  /** As the item stood before, when it is being moved. */
  was: PlannedItem | null
  others: readonly PlannedItem[]
  window: Window
  now: Instant
  zone: string
  /** When the stream runs, in words, where the campaign has several days; without, the hours of the window are said. */
  runs?: string | undefined
}

/** Why an item cannot stand where it is put, in words for its field; null when it can. */
export function objectTo({ item, was, others, window, now, zone, runs }: PlanQuestion): Objection | null {
  const clock = (at: Instant) => showClock(at, zone)
  if (item.startsAt <= now) {
    return { field: 'at', words: `${clock(item.startsAt)} has passed: it is ${clock(now)}. Choose a later time.` }
  }
  if (was?.isAnnounced && item.startsAt < was.startsAt) {
    return { field: 'at', words: `${clock(was.startsAt)} has been announced, so it may move later but not earlier.` }
  }
  const slot = slotOf(item)
  if (slot.from < window.opensAt || item.startsAt > window.closesAt || item.endsAt > window.closesAt) {
    const room = item.kind === 'closing' ? ` A closing needs ${BEFORE_CLOSING / MINUTE} minutes before it.` : ''
    const early = slot.from < window.opensAt
    return {
      field: early || item.kind === 'closing' ? 'at' : 'minutes',
      words: `The stream runs ${runs ?? `from ${clock(window.opensAt)} to ${clock(window.closesAt)}`}.${room} Choose a time inside it.`,
    }
  }
  const clash = findClash(item, others)
  if (clash) {
    const taken = slotOf(clash)
    const name = clash.kind === 'break' ? 'a break' : clash.title
    return {
      field: 'at',
      words: `That runs into ${name}, which keeps ${clock(taken.from)} to ${clock(taken.to)}. Free: ${freeNear(item, others, window, now, zone)}.`,
    }
  }
  return null
}

/** Up to two times at which the item would fit, on the five-minute grid, nearest first, as words. */
function freeNear(item: PlannedItem, others: readonly PlannedItem[], window: Window, now: Instant, zone: string): string {
  const length = item.endsAt - item.startsAt
  const fits = (at: Instant) => {
    const moved = { ...item, startsAt: at, endsAt: at + length }
    const inside = slotOf(moved).from >= window.opensAt && moved.endsAt <= window.closesAt && at > now
    return inside && !findClash(moved, others)
  }
  const grid = 5 * MINUTE
  const base = Math.round(item.startsAt / grid) * grid
  const steps = Math.ceil((window.closesAt - window.opensAt) / grid)
  const free: Instant[] = []
  for (let step = 1; step <= steps && free.length < 2; step += 1) {
    for (const at of [base - step * grid, base + step * grid]) if (free.length < 2 && fits(at)) free.push(at)
  }
  if (free.length === 0) return 'no time in this stream is left for it'
  return free
    .sort((a, b) => a - b)
    .map((at) => showClock(at, zone))
    .join(' or ')
}

/** An item as it runs: a closing that was extended ends later than it was planned. */
export interface RunningItem extends PlannedItem {
  /** When the lot really closes or closed; for guests and breaks the planned end. */
  runsTo: Instant
  isOver: boolean
  /** Since when its clock stands still; null or left out while it runs. */
  heldSince?: Instant | null
}

/** The day as it runs: a closing that was moved stands at the time at which it closes now. */
export const asItRuns = <Item extends RunningItem>(items: readonly Item[]): Item[] =>
  items.map((item) => (item.kind === 'closing' ? { ...item, startsAt: item.runsTo, endsAt: item.runsTo } : item))

/** When an item begins and ends as it runs; a closing whose clock stands moves on with the time, by what was left. */
function runOf(item: RunningItem, now: Instant): Pick<PlannedItem, 'kind' | 'startsAt' | 'endsAt'> {
  const { kind, startsAt, endsAt, runsTo, heldSince } = item
  if (kind !== 'closing') return { kind, startsAt, endsAt }
  const at = item.isOver ? runsTo : now + leftUntil(runsTo, now, heldSince)
  return { kind, startsAt: at, endsAt: at }
}

/** The day in the order in which it runs. */
export const inOrderOfDay = <Item extends RunningItem>(items: readonly Item[]): Item[] =>
  [...items].sort((a, b) => beginOf(a) - beginOf(b) || a.startsAt - b.startsAt)

/** When an item begins as it runs: a closing when its lot closes. Its stream day is the one that this lies in. */
export const beginOf = ({ kind, startsAt, runsTo }: Pick<RunningItem, 'kind' | 'startsAt' | 'runsTo'>): Instant =>
  kind === 'closing' ? runsTo : startsAt

/** What takes place on all stream days together. */
export const itemsOfAllDays = <Item>({
  items,
  others,
}: {
  items: readonly Item[]
  others: readonly { items: readonly Item[] }[]
}): Item[] => [...items, ...others.flatMap((day) => day.items)]

export interface NowAndNext<Item> {
  now: Item[]
  next: Item[]
}

/** Who and what is on at `now`, and what comes after, in the order in which it comes. */
export function nowAndNext<Item extends RunningItem>(items: readonly Item[], now: Instant): NowAndNext<Item> {
  const coming = items
    .map((item) => ({ item, run: runOf(item, now) }))
    // A closing whose time is up is on until the house has said what became of it.
    .filter(({ item, run }) => !item.isOver && (run.endsAt > now || (item.kind === 'closing' && !isElsewhere(item, now))))
    .sort((a, b) => a.run.startsAt - b.run.startsAt || a.item.startsAt - b.item.startsAt)
  const isOn = ({ run }: (typeof coming)[number]) => slotOf(run).from <= now
  const on = coming.filter(isOn).sort((a, b) => a.run.endsAt - b.run.endsAt)
  return { now: on.map(({ item }) => item), next: coming.filter((one) => !isOn(one)).map(({ item }) => item) }
}

/**
 * How far the stream runs behind its programme, in milliseconds; above zero is over. What counts is the latest closing that
 * began: by how much it was moved, or by how much it is overdue. While clocks stand it grows with them.
 */
export function overTime(items: readonly RunningItem[], now: Instant): number {
  const closings = items.filter(({ kind }) => kind === 'closing').map((item) => ({ item, at: runOf(item, now).startsAt }))
  // What had begun by its plan and was moved since has lost the day that much already, before it begins again.
  const hasBegun = ({ item, at }: (typeof closings)[number]) =>
    Math.min(at, item.startsAt) - BEFORE_CLOSING <= now || (item.heldSince ?? null) !== null
  const begun = closings.filter(hasBegun).sort((a, b) => a.at - b.at)
  // The one on air; where none is, the one before.
  const open = begun.find(({ item }) => !item.isOver && !isElsewhere(item, now))
  const last = open ?? begun.at(-1)
  if (!last) return 0
  return (open ? Math.max(last.at, now) : last.item.runsTo) - last.item.startsAt
}

/**
 * A closing that nobody made official within the host's minutes after it, and that is not held: such a lot is sold elsewhere and
 * its result comes by hand, maybe days later. The stream goes on.
 */
export const isElsewhere = ({ isOver, heldSince, runsTo }: RunningItem, now: Instant): boolean =>
  !isOver && (heldSince ?? null) === null && runsTo + AFTER_CLOSING <= now
