import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { calendarOf, closingCalendar } from '#sale/programme/calendar'
import type { Programme, ProgrammeItem } from '#sale/programme/programme.contract'
import { rows } from './icalendar.json'
import { rows as times } from './time.json'

const AT = Date.parse('1997-09-03T16:30:00Z')

function itemOf(more: Partial<ProgrammeItem>): ProgrammeItem {
  return {
    id: 'one',
    uid: '19970901T130000Z-123401@example.com',
    kind: 'guest',
    title: 'Annual Employee Review',
    note: '',
    lot: null,
    unit: null,
    startsAt: AT,
    endsAt: Date.parse('1997-09-03T19:00:00Z'),
    runsTo: Date.parse('1997-09-03T19:00:00Z'),
    isAnnounced: true,
    isOver: false,
    isHeld: false,
    heldSince: null,
    isExtended: false,
    isWithdrawn: false,
    fixedPrice: null,
    isSoldElsewhere: false,
    lateBid: null,
    keepsTime: false,
    sequence: 0,
    changedAt: Date.parse('1997-09-01T13:00:00Z'),
    ...more,
  }
}

function written(more: Partial<ProgrammeItem>): string {
  const item = itemOf(more)
  const window = { number: 1, opensAt: AT - HOUR, closesAt: AT + 4 * HOUR }
  const day: Programme = { name: 'Day', zone: 'UTC', ...window, items: [item], clockChange: null, others: [] }
  return calendarOf(day, [], new Map(), 'https://bench.example')
}

const unfolded = (text: string): string => text.replaceAll(/\r\n[ \t]/g, '')
const of = (kind: string) => rows.filter((row) => row.kind === kind)

describe('our calendar beside the examples of RFC 5545', () => {
  test.each(of('event'))('an event is written line by line as in $source', ({ lines }) => {
    const ours = written({}).split('\r\n')
    // What the example has and a closing has no use for: who may see it, and a category.
    const shared = (lines ?? []).filter((line) => !/^(CLASS|CATEGORIES)/.test(line))
    expect(shared.filter((line) => !ours.includes(line.replace('SUMMARY:', 'SUMMARY:Guest: ')))).toEqual([])
  })

  test.each(of('text'))('text of several lines is written as in $source', ({ raw, escaped }) => {
    expect(unfolded(written({ note: raw }))).toContain(`DESCRIPTION:${escaped}\r\n`)
  })

  test.each(of('utc'))('an instant is written as in $source', ({ written: form, iso }) => {
    const at = Date.parse(iso ?? '')
    expect(written({ startsAt: at, endsAt: at + HOUR, runsTo: at + HOUR })).toContain(`DTSTART:${form}\r\n`)
  })

  test('the alarms of a closing have the form of 3.8.6.3: a negative duration before the start', () => {
    const lot = { number: 7, title: 'Receiver' } as Parameters<typeof closingCalendar>[0]
    const ofLot = closingCalendar(lot, itemOf({ kind: 'closing', lot: 7 }), new Map(), 'https://bench.example')
    const triggers = [...ofLot.matchAll(/^TRIGGER:(.*)\r$/gm)].map(([, value]) => value)
    expect(triggers).toEqual(['-PT1H', '-PT10M'])
  })

  test.each(times.filter((row) => row.kind === 'ical_fold'))('a line of $octets octets is folded within 75, no letter broken', (row) => {
    const [name = '', ...rest] = String(row.unfolded).split(':')
    const value = rest.join(':')
    const ours = written(name === 'SUMMARY' ? { kind: 'break', title: value } : { note: value })
    expect(unfolded(ours)).toContain(`${row.unfolded}\r\n`)
    const from = ours.indexOf(`${name}:${value.slice(0, 4)}`)
    const lines =
      ours
        .slice(from)
        .split(/\r\n(?! )/)[0]
        ?.split('\r\n') ?? []
    expect(lines.map((line) => Buffer.byteLength(line)).every((octets) => octets <= 75)).toBe(true)
    expect(lines).toHaveLength(row.line_octets?.length ?? 0)
    expect(lines.join('')).not.toContain('\uFFFD')
  })
})

describe('the reader that the tests trust, beside the same examples', () => {
  test.each(of('unfold'))('unfolds $source', ({ folded, unfolded: whole }) => {
    expect(unfolded(folded ?? '')).toBe(whole)
    expect(ICAL.Property.fromString(unfolded(folded ?? '')).getFirstValue()).toBe(whole?.slice('DESCRIPTION:'.length))
  })
  test.each([...of('duration'), ...of('trigger')])('reads $written as in $source', ({ written: form, seconds }) => {
    expect(ICAL.Duration.fromString(form ?? '').toSeconds()).toBe(seconds)
  })
  test.each(of('event'))('reads the event of $source', ({ lines, start, end }) => {
    const event = new ICAL.Event(new ICAL.Component(ICAL.parse((lines ?? []).join('\r\n'))))
    expect(event.startDate.toJSDate().toISOString()).toBe(start)
    expect(event.endDate.toJSDate().toISOString()).toBe(end)
  })
})
