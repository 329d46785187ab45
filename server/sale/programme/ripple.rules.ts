import { type Instant, MINUTE } from '#kernel/instant'
import { findClash, type PlannedItem, slotOf, type Window } from './programme.rules'

/** What stands in the day, where it runs now: a closing that was extended stands at its new time. */
export interface ItemOfDay extends PlannedItem {
  isOver: boolean
  /** It cannot come later: the others go around it, and only a change that names it moves it. */
  keepsTime: boolean
}

export type DayChange =
  /** A guest is late, a closing is given time, a break is put off. */
  | { kind: 'later'; itemId: string; minutes: number }
  /** The first goes behind the second, which keeps its time. */
  | { kind: 'swap'; firstId: string; secondId: string }
  /** All that has not begun. */
  | { kind: 'all-later'; minutes: number }

export interface Shift {
  id: string
  from: Instant
  to: Instant
}

export interface Ripple {
  shifts: Shift[]
  /** Items that would then stand beyond the end of the stream. */
  beyondEnd: string[]
  /** What keeps its time sends these further than the change asks, past it. */
  thrown: { id: string; past: string }[]
}

export interface RippleQuestion {
  items: readonly ItemOfDay[]
  change: DayChange
  /** Closings that go with a guest: when the guest comes later, so do they. */
  together: readonly { closingId: string; guestId: string }[]
  window: Window
  now: Instant
}

/**
 * What a change does to the rest of the day: nothing moves earlier, and only what would stand in the way of something
 * moves, to the first minute at which it does not. What has room stays, even where something is put behind it.
 */
export function rippleOf({ items, change, together, window, now }: RippleQuestion): Ripple {
  const coming = items.filter(({ isOver, startsAt, endsAt }) => !isOver && Math.max(startsAt, endsAt) > now)
  const asked = askedFor(coming, { change, together, now })
  const isFast = (item: ItemOfDay) => !asked.has(item.id) && (item.isOver || item.keepsTime || hasBegun(item, now))
  // What is over stands in nobody's way: the minutes after it are the host's to give.
  const fast = items.filter((item) => isFast(item) && !item.isOver)
  const placed = [...fast]
  const thrown: Ripple['thrown'] = []
  const moving = coming.flatMap((item) => {
    const wanted = asked.get(item.id)
    return wanted === undefined ? [] : [at(item, wanted)]
  })
  const rest = items.filter((item) => !asked.has(item.id) && !isFast(item))
  for (const wanted of [...inOrder(moving), ...inOrder(rest)]) {
    const item = items.find(({ id }) => id === wanted.id) ?? wanted
    const moved = makeRoom(item, wanted, placed, items)
    const near = makeRoom(
      item,
      wanted,
      placed.filter((one) => !fast.includes(one)),
      items,
    )
    const past = moved.startsAt - near.startsAt > MINUTE ? findClash(near, fast) : null
    if (past) thrown.push({ id: item.id, past: past.id })
    placed.push(moved)
  }
  const shifts = items.flatMap((item) => {
    const to = placed.find(({ id }) => id === item.id)?.startsAt ?? item.startsAt
    return to === item.startsAt ? [] : [{ id: item.id, from: item.startsAt, to }]
  })
  const beyond = placed.filter(({ id, endsAt }) => endsAt > window.closesAt && shifts.some((shift) => shift.id === id))
  return { shifts: shifts.sort((a, b) => a.to - b.to), beyondEnd: beyond.map(({ id }) => id), thrown }
}

/** The most minutes, fewer than were asked for, that throw nothing and end before the stream does; null where none do. */
export function minutesThatFit(question: RippleQuestion): number | null {
  const { change } = question
  if (change.kind === 'swap') return null
  for (let minutes = change.minutes - 1; minutes > 0; minutes -= 1) {
    const { thrown, beyondEnd } = rippleOf({ ...question, change: { ...change, minutes } })
    if (thrown.length === 0 && beyondEnd.length === 0) return minutes
  }
  return null
}

/** A guest or a break that is on stays on; a closing can still be given time. */
const hasBegun = ({ kind, startsAt }: ItemOfDay, now: Instant): boolean => kind !== 'closing' && startsAt <= now

export const inOrder = (items: readonly ItemOfDay[]): ItemOfDay[] => [...items].sort((a, b) => slotOf(a).from - slotOf(b).from)

export const at = (item: ItemOfDay, startsAt: Instant): ItemOfDay => ({
  ...item,
  startsAt,
  endsAt: startsAt + (item.endsAt - item.startsAt),
})

/** The times that the change itself asks for. */
function askedFor(
  items: readonly ItemOfDay[],
  { change, together, now }: Pick<RippleQuestion, 'change' | 'together' | 'now'>,
): Map<string, Instant> {
  const find = (id: string) => items.find((item) => item.id === id)
  const asked = new Map<string, Instant>()
  const later = (item: ItemOfDay | undefined, minutes: number) => {
    if (item) asked.set(item.id, item.startsAt + minutes * MINUTE)
  }
  if (change.kind === 'all-later') for (const item of items) if (!item.keepsTime && !hasBegun(item, now)) later(item, change.minutes)
  if (change.kind === 'later') {
    const item = find(change.itemId)
    later(item, change.minutes)
    for (const { closingId, guestId } of together) {
      const closing = find(closingId)
      if (item && closing && guestId === item.id && closing.startsAt >= item.startsAt && closing.startsAt <= item.endsAt)
        later(closing, change.minutes)
    }
  }
  if (change.kind === 'swap') {
    const [first, second] = [find(change.firstId), find(change.secondId)].sort((a, b) => (a?.startsAt ?? 0) - (b?.startsAt ?? 0))
    if (first && second) asked.set(first.id, firstFree({ ...first, ...at(first, second.endsAt) }, [second]).startsAt)
  }
  return asked
}

/**
 * Where an item comes to stand that is wanted at another time: at the first minute where nothing that is placed stands in
 * its way. Two that stood too near each other before, as after a late bid, keep the distance they had and no more.
 */
export function makeRoom(item: ItemOfDay, wanted: ItemOfDay, placed: readonly ItemOfDay[], before: readonly ItemOfDay[]): ItemOfDay {
  const near = placed.flatMap((other) => {
    const was = before.find(({ id }) => id === other.id)
    const isNear = was && was.startsAt < item.startsAt && other.startsAt <= wanted.startsAt && findClash(item, [was]) !== null
    return isNear ? [{ id: other.id, least: other.startsAt + item.startsAt - was.startsAt }] : []
  })
  const from = at(wanted, Math.max(wanted.startsAt, ...near.map(({ least }) => least)))
  return firstFree(
    from,
    placed.filter(({ id }) => !near.some((one) => one.id === id)),
  )
}

/** Whether two stood too near each other before, in the same order, and stand no nearer now. */
export function stoodAsNear(pair: readonly PlannedItem[], before: readonly PlannedItem[]): boolean {
  const [item, other] = pair
  const [was, otherWas] = pair.map(({ id }) => before.find((one) => one.id === id))
  if (!item || !other || !was || !otherWas || !findClash(was, [otherWas])) return false
  const [apart, wereApart] = [item.startsAt - other.startsAt, was.startsAt - otherWas.startsAt]
  return Math.sign(apart) === Math.sign(wereApart) && Math.abs(apart) >= Math.abs(wereApart)
}

/** The item at its own time, or at the first minute after it where nothing that is placed stands in its way. */
function firstFree(item: ItemOfDay, placed: readonly ItemOfDay[]): ItemOfDay {
  const clash = findClash(item, placed)
  if (!clash) return item
  const room = item.startsAt - slotOf(item).from
  const next = Math.ceil((slotOf(clash).to + room) / MINUTE) * MINUTE
  return firstFree(at(item, Math.max(next, item.startsAt + MINUTE)), placed)
}
