import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { awakeBands, awakeShare, awakeWeight } from '#sale/programme/awake.rules'
import {
  findClash,
  inOrderOfDay,
  nowAndNext,
  objectTo,
  overTime,
  type PlannedItem,
  type RunningItem,
  slotOf,
} from '#sale/programme/programme.rules'

const OPENS = Date.parse('2027-03-13T13:00:00Z')
const WINDOW = { opensAt: OPENS, closesAt: OPENS + 12 * HOUR }
const at = (clock: string) => Date.parse(`2027-03-13T${clock}:00Z`)

const closing = (clock: string, more: Partial<PlannedItem> = {}): PlannedItem => ({
  id: `closing ${clock}`,
  kind: 'closing',
  title: `Lot of ${clock}`,
  startsAt: at(clock),
  endsAt: at(clock),
  isAnnounced: false,
  ...more,
})
const span = (kind: 'guest' | 'break', clock: string, minutes: number): PlannedItem => ({
  id: `${kind} ${clock}`,
  kind,
  title: kind,
  startsAt: at(clock),
  endsAt: at(clock) + minutes * MINUTE,
  isAnnounced: false,
})
const ask = (item: PlannedItem, others: PlannedItem[] = [], more: { was?: PlannedItem; now?: number } = {}) =>
  objectTo({ item, others, was: more.was ?? null, window: WINDOW, now: more.now ?? OPENS - HOUR, zone: 'Europe/London' })

describe('closings keep their minutes', () => {
  it('two closings 15 minutes apart only touch, 14 minutes apart they clash', () => {
    expect(ask(closing('14:15'), [closing('14:00')])).toBeNull()
    expect(ask(closing('14:14'), [closing('14:00')])?.field).toBe('at')
  })

  it('a clash names what is in the way, what it keeps, and where there is room', () => {
    const said = ask(closing('14:10'), [closing('14:00')])
    expect(said?.words).toBe('That runs into Lot of 14:00, which keeps 13:50 to 14:05. Free: 14:15 or 14:20.')
  })

  it('a guest may stay through a closing, a break may not lie over one', () => {
    expect(ask(span('guest', '13:30', 60), [closing('14:00')])).toBeNull()
    expect(ask(span('break', '13:30', 21), [closing('14:00')])?.words).toContain('That runs into Lot of 14:00')
    expect(ask(span('break', '13:30', 20), [closing('14:00')])).toBeNull()
    expect(ask(span('break', '14:05', 20), [closing('14:00')])).toBeNull()
  })

  it('two guests are not on at once', () => {
    expect(ask(span('guest', '14:00', 30), [span('guest', '14:29', 30)])?.field).toBe('at')
    expect(ask(span('guest', '14:00', 30), [span('guest', '14:30', 30)])).toBeNull()
  })

  it('an item does not clash with itself when it is moved', () => {
    const was = closing('14:00')
    expect(ask({ ...was, startsAt: at('14:05'), endsAt: at('14:05') }, [was], { was })).toBeNull()
  })
})

describe('an item lies inside the day', () => {
  it('the first closing is ten minutes after the stream opens, the last at its end', () => {
    expect(ask(closing('13:10'))).toBeNull()
    expect(ask(closing('13:09'))?.words).toContain('A closing needs 10 minutes before it.')
    const last = { ...closing('14:00'), startsAt: WINDOW.closesAt, endsAt: WINDOW.closesAt }
    expect(ask(last)).toBeNull()
    expect(ask({ ...last, startsAt: last.startsAt + 1, endsAt: last.endsAt + 1 })?.field).toBe('at')
  })

  it('a guest who would stay past the end is told at the minutes', () => {
    expect(ask({ ...span('guest', '14:00', 30), startsAt: WINDOW.closesAt - 10 * MINUTE, endsAt: WINDOW.closesAt + 1 })?.field).toBe(
      'minutes',
    )
  })

  it('a closing in the past is refused, one at this very instant too', () => {
    expect(ask(closing('14:00'), [], { now: at('14:00') - 1 })).toBeNull()
    expect(ask(closing('14:00'), [], { now: at('14:00') })?.words).toContain('14:00 has passed')
  })

  it('what has been announced moves later, never earlier', () => {
    const was = closing('14:00', { isAnnounced: true })
    const moved = (clock: string) => ({ ...was, startsAt: at(clock), endsAt: at(clock) })
    expect(ask(moved('13:59'), [], { was })?.words).toContain('not earlier')
    expect(ask(moved('14:00'), [], { was })).toBeNull()
    expect(ask(moved('14:20'), [], { was })).toBeNull()
    expect(ask(moved('13:59'), [], { was: { ...was, isAnnounced: false } })).toBeNull()
  })

  it('every time that is offered as free is free', () => {
    const minutes = fc.integer({ min: 10, max: 720 })
    fc.assert(
      fc.property(fc.array(minutes, { maxLength: 40 }), minutes, (taken, wanted) => {
        const others: PlannedItem[] = []
        for (const minute of taken) {
          const one = { ...closing('14:00'), id: `c${minute}`, startsAt: OPENS + minute * MINUTE, endsAt: OPENS + minute * MINUTE }
          if (!ask(one, others)) others.push(one)
        }
        const item = { ...closing('14:00'), id: 'wanted', startsAt: OPENS + wanted * MINUTE, endsAt: OPENS + wanted * MINUTE }
        const said = ask(item, others)
        expect(said === null).toBe(findClash(item, others) === null)
        for (const clock of said?.words.match(/(?<=Free: .*)\d\d:\d\d/g) ?? []) {
          const minute = (Number(clock.slice(0, 2)) - 13 + 24) % 24
          const there = OPENS + minute * HOUR + Number(clock.slice(3)) * MINUTE
          expect(ask({ ...item, startsAt: there, endsAt: there }, others)).toBeNull()
        }
      }),
    )
  })
})

describe('now, next and how late it is', () => {
  const run = (item: PlannedItem, more: Partial<RunningItem> = {}): RunningItem => ({
    ...item,
    runsTo: item.endsAt,
    isOver: false,
    ...more,
  })
  const day = [run(closing('14:00')), run(span('guest', '13:30', 60)), run(closing('15:00')), run(span('break', '16:00', 20))]

  it('a closing is on from ten minutes before it', () => {
    const before = nowAndNext(day, at('13:50') - 1)
    expect(before.now.map((item) => item.kind)).toEqual(['guest'])
    const from = nowAndNext(day, at('13:50'))
    expect(from.now.map((item) => item.title)).toEqual(['Lot of 14:00', 'guest'])
    expect(from.next.map((item) => item.title)).toEqual(['Lot of 15:00', 'break'])
  })

  it('a closing that was extended stays on until it really closes, and the day runs over', () => {
    const extended = run(closing('14:00'), { runsTo: at('14:03') })
    expect(nowAndNext([extended], at('14:02')).now).toHaveLength(1)
    expect(overTime([extended], at('14:02'))).toBe(3 * MINUTE)
    expect(overTime([{ ...extended, isOver: true }], at('14:30'))).toBe(3 * MINUTE)
  })

  it('a closing that was moved comes on ten minutes before where it closes now, and in that order', () => {
    const moved = run(closing('14:00'), { runsTo: at('14:40') })
    const tea = run(span('break', '14:10', 15))
    expect(nowAndNext([moved, tea], at('13:55')).now).toEqual([])
    expect(nowAndNext([moved, tea], at('13:55')).next).toEqual([tea, moved])
    expect(nowAndNext([moved, tea], at('14:29')).next).toEqual([moved])
    expect(nowAndNext([moved, tea], at('14:30')).now).toEqual([moved])
  })

  it('a closing whose clock stands stays what it was, however long, and the day runs over with it', () => {
    const held = run(closing('14:00'), { heldSince: at('13:55') })
    expect(nowAndNext([held, run(closing('15:00'))], at('14:30')).now).toEqual([held])
    expect(overTime([held], at('14:30'))).toBe(35 * MINUTE)
    expect(inOrderOfDay([held, run(span('break', '13:30', 20))]).map(({ kind }) => kind)).toEqual(['break', 'closing'])
  })

  it('a closing that nobody has confirmed yet runs over by the second', () => {
    expect(overTime([run(closing('14:00'))], at('14:00') + 5 * SECOND)).toBe(5 * SECOND)
  })

  it('a closing whose moment was to be by now and was moved is over by that, before it begins again', () => {
    const moved = run(closing('14:00'), { runsTo: at('14:26') })
    expect(overTime([moved, run(closing('15:00'))], at('14:11'))).toBe(26 * MINUTE)
    expect(overTime([moved, run(closing('15:00'))], at('13:49'))).toBe(0)
  })

  it('a closing whose time is up is on until the house has said what became of it, or nobody did', () => {
    const due = run(closing('14:00'))
    expect(nowAndNext([due], at('14:02')).now).toEqual([due])
    expect(nowAndNext([{ ...due, isOver: true }], at('14:02')).now).toEqual([])
    expect(nowAndNext([due], at('14:05')).now).toEqual([])
  })

  it('before the first closing has begun nothing is over', () => {
    expect(overTime(day, at('13:49'))).toBe(0)
  })

  it('the minutes about a closing are ten and five', () => {
    expect(slotOf(closing('14:00'))).toEqual({ from: at('13:50'), to: at('14:05') })
  })
})

describe('who is awake', () => {
  it('bands follow the local hour of each zone and cover the window', () => {
    const bands = awakeBands(WINDOW, { zone: 'Europe/London' })
    // A Saturday: its afternoon counts for more than one of a working day, and the evening before the Sunday is longer.
    expect(bands.map((band) => band.weight)).toEqual([0.8, 1, 0.6, 0.06])
    expect(bands[0]?.to).toBe(at('17:00'))
    expect(bands.at(-1)?.to).toBe(WINDOW.closesAt)
  })

  it('a zone off by 45 minutes has its bands off by 45 minutes', () => {
    const bands = awakeBands(WINDOW, { zone: 'Asia/Kathmandu' })
    expect(bands[0]?.to).toBe(at('17:15'))
  })

  it('a holiday that the maker entered counts as a weekend does, there and nowhere else; some places have other weekends', () => {
    const thursday = Date.parse('2027-03-11T12:00:00Z')
    const weight = (zone: string, daysOff: string[] = []) => awakeWeight(thursday, { zone, daysOff })
    expect([weight('Europe/London'), weight('Europe/London', ['2027-03-11']), weight('Europe/Paris')]).toEqual([0.55, 0.8, 0.55])
    const friday = thursday + 24 * 3_600_000
    expect([awakeWeight(friday, { zone: 'Africa/Cairo' }), awakeWeight(friday, { zone: 'Europe/London' })]).toEqual([0.8, 0.55])
    const eve = Date.parse('2027-03-11T23:30:00Z')
    expect([awakeWeight(eve, { zone: 'Europe/London' }), awakeWeight(eve, { zone: 'Europe/London', daysOff: ['2027-03-12'] })]).toEqual([
      0.4, 0.6,
    ])
  })

  it('the share awake weighs the zones', () => {
    const audience = [
      { zone: 'Europe/London', shareBp: 7500 },
      { zone: 'Asia/Tokyo', shareBp: 2500 },
    ]
    expect(awakeShare(audience, at('20:00'))).toBeCloseTo(0.75 * 1 + 0.25 * 0.06, 10)
    expect(awakeShare([], at('20:00'))).toBe(0)
  })
})
