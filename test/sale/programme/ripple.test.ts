import fc from 'fast-check'
import { expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { goingOn } from '#sale/programme/going-on.rules'
import { findClash, type ItemKind } from '#sale/programme/programme.rules'
import { type DayChange, type ItemOfDay, rippleOf } from '#sale/programme/ripple.rules'

const OPENS = Date.parse('2027-03-13T13:00:00Z')
const WINDOW = { opensAt: OPENS, closesAt: OPENS + 12 * HOUR }

const item = (id: string, kind: ItemKind, minute: number, length = 0): ItemOfDay => ({
  id,
  kind,
  title: id,
  startsAt: OPENS + minute * MINUTE,
  endsAt: OPENS + (minute + length) * MINUTE,
  isAnnounced: true,
  isOver: false,
  keepsTime: false,
})

const minutesOf = (items: ItemOfDay[], change: DayChange, together: { closingId: string; guestId: string }[] = []) => {
  const { shifts, beyondEnd } = rippleOf({ items, change, together, window: WINDOW, now: OPENS })
  return { moved: Object.fromEntries(shifts.map(({ id, to }) => [id, (to - OPENS) / MINUTE])), beyondEnd }
}

const day = [item('one', 'closing', 60), item('tea', 'break', 65, 20), item('two', 'closing', 95), item('three', 'closing', 180)]

test('a closing that is given time pushes only what it runs into', () => {
  expect(minutesOf(day, { kind: 'later', itemId: 'one', minutes: 10 }).moved).toEqual({ one: 70, tea: 75, two: 105 })
})

test('what has room stays where it is', () => {
  expect(minutesOf(day, { kind: 'later', itemId: 'two', minutes: 30 }).moved).toEqual({ two: 125 })
})

test('a swap puts the first behind the second, which keeps its time', () => {
  expect(
    minutesOf([item('a', 'closing', 60), item('b', 'closing', 90), item('c', 'closing', 110)], {
      kind: 'swap',
      firstId: 'a',
      secondId: 'b',
    }).moved,
  ).toEqual({
    a: 105,
    c: 120,
  })
})

test('a closing that goes with a guest comes later with the guest', () => {
  const items = [item('guest', 'guest', 60, 60), item('with', 'closing', 90), item('other', 'closing', 115)]
  const together = [{ closingId: 'with', guestId: 'guest' }]
  expect(minutesOf(items, { kind: 'later', itemId: 'guest', minutes: 20 }, together).moved).toEqual({ guest: 80, with: 110, other: 125 })
  expect(minutesOf(items, { kind: 'later', itemId: 'guest', minutes: 20 }).moved).toEqual({ guest: 80 })
})

test('what would stand beyond the end of the stream is named', () => {
  const items = [item('last', 'closing', 715)]
  expect(minutesOf(items, { kind: 'later', itemId: 'last', minutes: 10 })).toEqual({ moved: { last: 725 }, beyondEnd: ['last'] })
})

test('what is over stays over, and what has not begun moves together', () => {
  const items = [{ ...item('gone', 'closing', 10), isOver: true }, item('a', 'closing', 60), item('g', 'guest', 100, 30)]
  expect(minutesOf(items, { kind: 'all-later', minutes: 15 }).moved).toEqual({ a: 75, g: 115 })
})

test('what keeps its time is gone around, and moves only when it is named', () => {
  const items = [item('a', 'closing', 60), { ...item('tea', 'break', 65, 20), keepsTime: true }, item('b', 'closing', 120)]
  expect(minutesOf(items, { kind: 'later', itemId: 'a', minutes: 5 }).moved).toEqual({ a: 95 })
  expect(minutesOf(items, { kind: 'all-later', minutes: 5 }).moved).toEqual({ a: 95, b: 125 })
  expect(minutesOf(items, { kind: 'later', itemId: 'tea', minutes: 5 }).moved).toEqual({ tea: 70 })
})

test('a guest who is on stays on when everything comes later', () => {
  const items = [item('on', 'guest', -10, 30), item('a', 'closing', 60)]
  expect(minutesOf(items, { kind: 'all-later', minutes: 10 }).moved).toEqual({ a: 70 })
})

const afterHold = (items: ItemOfDay[], sinceMinute: number, minutes: number) => {
  const stood = new Set(items.filter(({ kind, isOver }) => kind === 'closing' && !isOver).map(({ id }) => id))
  const since = OPENS + sinceMinute * MINUTE
  const { moves, problems } = goingOn({ items, stood, since, now: since + minutes * MINUTE, window: WINDOW })
  const minute = (at: number) => (at - OPENS) / MINUTE
  return {
    moved: Object.fromEntries(
      moves.map(({ id, kind, startsAt, endsAt }) => [id, kind === 'closing' ? minute(startsAt) : [minute(startsAt), minute(endsAt)]]),
    ),
    problems,
  }
}

test('a hold uses up the gaps behind it: five minutes move what they reach and no more of the day', () => {
  const items = [item('a', 'closing', 61), item('tea', 'break', 70, 15), item('b', 'closing', 100), item('c', 'closing', 200)]
  expect(afterHold(items, 60, 5)).toEqual({ moved: { a: 80, tea: [85, 100], b: 110 }, problems: [] })
})

test('the first closing has its fifteen minutes from going on, however long the clocks stood', () => {
  expect(afterHold([item('a', 'closing', 61)], 60, 13).moved).toEqual({ a: 88 })
})

test('a hold of seconds and odd minutes keeps a break where it stands among its neighbours', () => {
  const items = [item('a', 'closing', 62), item('lunch', 'break', 70, 30), item('b', 'closing', 110), item('c', 'closing', 125)]
  const { moved, problems } = afterHold(items, 60, 4.26)
  expect(moved).toEqual({ a: 79.26, lunch: [85, 115], b: 125, c: 140 })
  expect(problems).toEqual([])
})

test('whoever was on when the clocks stopped stays so much longer, and who was to come meanwhile comes now', () => {
  const items = [item('gone', 'guest', 0, 20), item('on', 'guest', 30, 30), item('late', 'break', 65, 10), item('a', 'closing', 120)]
  expect(afterHold(items, 40, 30).moved).toEqual({ on: [30, 90], late: [90, 100] })
})

test('what is thrown past something that keeps its time is a problem, and what stands past the end another', () => {
  const items = [item('a', 'closing', 61), item('tea', 'break', 66, 40), { ...item('call', 'break', 110, 90), keepsTime: true }]
  const { moved, problems } = afterHold(items, 60, 5)
  expect(moved).toEqual({ a: 80, tea: [200, 240] })
  expect(problems).toEqual([{ id: 'tea', why: 'thrown', past: 'call' }])
  expect(afterHold([item('last', 'closing', 715)], 714, 10).problems).toEqual([{ id: 'last', why: 'beyond-end', past: null }])
})

test('a short hold costs what stood too near something no more than itself, be the other over or still to close', () => {
  const over = { ...item('over', 'closing', 31), isOver: true }
  expect(afterHold([over, item('b', 'closing', 43)], 42, 1.5)).toEqual({ moved: { b: 44.5 }, problems: [] })
  const near = [item('a', 'closing', 61), item('b', 'closing', 68), item('tea', 'break', 73, 10)]
  expect(afterHold(near, 60, 1)).toEqual({ moved: { a: 62, b: 69, tea: [74, 84] }, problems: [] })
  expect(afterHold(near, 60, 5).moved).toEqual({ a: 80, b: 87, tea: [92, 102] })
})

test('a change leaves what stood too near something already, and asks for no room behind what is over', () => {
  const items = [
    { ...item('over', 'closing', 31), isOver: true },
    item('a', 'closing', 40),
    item('b', 'closing', 48),
    item('tea', 'break', 300, 10),
  ]
  expect(minutesOf(items, { kind: 'later', itemId: 'tea', minutes: 5 }).moved).toEqual({ tea: 305 })
  expect(minutesOf(items, { kind: 'later', itemId: 'a', minutes: 3 }).moved).toEqual({ a: 43, b: 51 })
  expect(minutesOf(items, { kind: 'all-later', minutes: 10 }).moved).toEqual({ a: 50, b: 58, tea: 310 })
})

/** Days on which nothing stands in the way of anything. */
const anyDay = fc
  .array(
    fc.record({
      kind: fc.constantFrom<ItemKind>('closing', 'closing', 'guest', 'break'),
      gap: fc.integer({ min: 0, max: 30 }),
      length: fc.integer({ min: 5, max: 60 }),
    }),
    {
      minLength: 1,
      maxLength: 12,
    },
  )
  .map((parts) => {
    let minute = 10
    return parts.map(({ kind, gap, length }, index) => {
      minute += gap + (kind === 'closing' ? 10 : 0)
      const made = item(`${index}`, kind, minute, kind === 'closing' ? 0 : length)
      minute += kind === 'closing' ? 5 : length
      return made
    })
  })

const anyChange = (items: readonly ItemOfDay[]): fc.Arbitrary<DayChange> => {
  const id = fc.constantFrom(...items.map((one) => one.id))
  const minutes = fc.integer({ min: 1, max: 90 })
  return fc.oneof(
    fc.record({ kind: fc.constant('later' as const), itemId: id, minutes }),
    fc.record({ kind: fc.constant('swap' as const), firstId: id, secondId: id }),
    fc.record({ kind: fc.constant('all-later' as const), minutes }),
  )
}

test('nothing moves earlier, nothing runs into anything, and nothing moves that could have stayed', () => {
  fc.assert(
    fc.property(
      anyDay.chain((items) => fc.tuple(fc.constant(items), anyChange(items))),
      ([items, change]) => {
        const { shifts } = rippleOf({ items, change, together: [], window: WINDOW, now: OPENS })
        const after = items.map((one) => {
          const to = shifts.find(({ id }) => id === one.id)?.to ?? one.startsAt
          return { ...one, startsAt: to, endsAt: to + one.endsAt - one.startsAt }
        })
        for (const { from, to } of shifts) expect(to).toBeGreaterThan(from)
        for (const one of after) expect(findClash(one, after)).toBeNull()
        const named =
          change.kind === 'later' ? [change.itemId] : change.kind === 'swap' ? [change.firstId, change.secondId] : items.map(({ id }) => id)
        for (const { id } of shifts.filter((shift) => !named.includes(shift.id))) {
          const before = items.find((one) => one.id === id)
          const others = after.filter((one) => one.id !== id)
          expect(before && findClash(before, others), `${id} could have stayed`).not.toBeNull()
        }
      },
    ),
    { numRuns: 2000 },
  )
})

test('after any hold nothing stands earlier, nothing runs into anything, and no clock goes on with less than its notice', () => {
  fc.assert(
    fc.property(anyDay, fc.integer({ min: 0, max: 300 }), fc.integer({ min: 2 * 60, max: 90 * 60 }), (items, sinceMinute, seconds) => {
      const [since, now] = [OPENS + sinceMinute * MINUTE, OPENS + sinceMinute * MINUTE + seconds * 1000]
      const coming = items.map((one) => ({ ...one, isOver: one.endsAt <= since }))
      const stood = new Set(coming.filter(({ kind, isOver }) => kind === 'closing' && !isOver).map(({ id }) => id))
      const { moves } = goingOn({ items: coming, stood, since, now, window: WINDOW })
      const after = coming.map((one) => {
        const to = moves.find(({ id }) => id === one.id)
        return to ? { ...one, startsAt: to.startsAt, endsAt: to.endsAt } : one
      })
      for (const { from, startsAt } of moves) expect(startsAt).toBeGreaterThanOrEqual(from)
      for (const one of after) {
        if (stood.has(one.id)) expect(one.startsAt - now).toBeGreaterThanOrEqual(15 * MINUTE)
        if (!one.isOver)
          expect(
            findClash(
              one,
              after.filter(({ isOver }) => !isOver),
            ),
          ).toBeNull()
      }
    }),
    { numRuns: 1000 },
  )
})
