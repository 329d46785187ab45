import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { calendarOf, closingCalendar } from '#sale/programme/calendar'
import type { Programme, ProgrammeItem } from '#sale/programme/programme.contract'
import { rows } from '../../reference/time.json'

const CLOSES = Date.parse('2027-10-31T00:30:00Z')
const item = (more: Partial<ProgrammeItem> = {}): ProgrammeItem => ({
  id: '4f8a2f0e-7a57-4a53-9b64-3d1b9f6f9a01',
  uid: '7c1d2f0e-7a57-4a53-9b64-3d1b9f6f9a01',
  kind: 'closing',
  title: 'Lot 7: Saltmarsh shortwave receiver',
  note: '',
  lot: 7,
  unit: 'TERN-03',
  startsAt: CLOSES,
  endsAt: CLOSES,
  runsTo: CLOSES,
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
  changedAt: Date.parse('2027-10-01T12:00:00Z'),
  ...more,
})
const programme = (...items: ProgrammeItem[]): Programme => ({
  name: 'Long Bench Day',
  number: 1,
  others: [],
  zone: 'Europe/London',
  opensAt: CLOSES - 6 * HOUR,
  closesAt: CLOSES + 6 * HOUR,
  items,
  clockChange: null,
})
const written = (...items: ProgrammeItem[]) => calendarOf(programme(...items), [], new Map(), 'https://bench.example')
const eventsOf = (text: string) => new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((each) => new ICAL.Event(each))
const at = (time: ICAL.Time) => time.toJSDate().getTime()

describe('the calendar, read back by another library', () => {
  it('has each closing at its instant, on both sides of a clock change', () => {
    const later = item({
      id: '4f8a2f0e-7a57-4a53-9b64-3d1b9f6f9a02',
      startsAt: CLOSES + HOUR,
      endsAt: CLOSES + HOUR,
      runsTo: CLOSES + HOUR,
    })
    const events = eventsOf(written(item(), later))
    // Both are 01:30 in London that night; as instants they are an hour apart.
    expect(events.map((event) => at(event.startDate))).toEqual([CLOSES, CLOSES + HOUR])
    expect(events.map((event) => at(event.endDate))).toEqual([CLOSES + 5 * MINUTE, CLOSES + HOUR + 5 * MINUTE])
    expect(events.every((event) => event.startDate.zone === ICAL.Timezone.utcTimezone)).toBe(true)
  })

  it('an extension keeps the UID and raises the sequence', () => {
    const [before] = eventsOf(written(item()))
    const [after] = eventsOf(written(item({ runsTo: CLOSES + 2 * MINUTE, sequence: 120 })))
    expect(after?.uid).toBe(before?.uid)
    expect(after?.sequence).toBeGreaterThan(before?.sequence ?? 0)
    expect(at(after?.startDate as ICAL.Time)).toBe(CLOSES + 2 * MINUTE)
  })

  it('reminds an hour and ten minutes before a closing only whoever asked for that one lot, and not of what is over', () => {
    const triggers = (text: string) =>
      new ICAL.Component(ICAL.parse(text))
        .getAllSubcomponents('vevent')
        .flatMap((event) => event.getAllSubcomponents('valarm'))
        .map((alarm) => (alarm.getFirstPropertyValue('trigger') as ICAL.Duration).toSeconds())
    const ofLot = (more: Partial<ProgrammeItem> = {}) =>
      closingCalendar({ number: 7 } as Parameters<typeof closingCalendar>[0], item(more), new Map(), 'https://bench.example')
    expect(triggers(ofLot())).toEqual([-3600, -600])
    expect(triggers(ofLot({ isOver: true }))).toEqual([])
    expect(triggers(ofLot({ isHeld: true }))).toEqual([])
    expect(triggers(written(item()))).toEqual([])
  })

  it('carries commas, semicolons, backslashes and line breaks through unharmed', () => {
    const raw = rows.find((row) => row.kind === 'ical_text_escape')
    const [event] = eventsOf(
      written(item({ kind: 'guest', lot: null, title: 'Lot; 5 V, 1 A\\', note: String(raw?.raw), endsAt: CLOSES + HOUR })),
    )
    expect(event?.summary).toBe('Guest: Lot; 5 V, 1 A\\')
    expect(event?.description).toBe(raw?.raw)
  })

  it.each(['é'.repeat(120), '🔧'.repeat(60), 'a'.repeat(400), 'Ω '.repeat(90)])(
    'no line is longer than 75 octets, and none breaks a letter: %s',
    (title) => {
      const text = written(item({ kind: 'guest', lot: null, title, endsAt: CLOSES + HOUR }))
      for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
      expect(eventsOf(text)[0]?.summary).toBe(`Guest: ${title}`)
    },
  )

  it('ends every line with CRLF, the last one too', () => {
    expect(written(item()).endsWith('END:VCALENDAR\r\n')).toBe(true)
    expect(written(item()).replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
  })

  it('is stamped anew whenever a late bid, a hold or the end changed the closing', () => {
    const changedAt = Date.parse('2027-10-30T23:59:30Z')
    const text = calendarOf(programme(item()), [], new Map([[7, { at: changedAt, stops: 0 }]]), 'https://bench.example')
    expect(text).toContain('DTSTAMP:20271030T235930Z')
    expect(text).toContain('LAST-MODIFIED:20271030T235930Z')
    expect(written(item())).toContain('DTSTAMP:20271001T120000Z')
  })

  it('is tentative while its clock stands, and says so', () => {
    const [event] = new ICAL.Component(ICAL.parse(written(item({ isHeld: true })))).getAllSubcomponents('vevent')
    expect(event?.getFirstPropertyValue('status')).toBe('TENTATIVE')
    expect(event?.getFirstPropertyValue('summary')).toBe('Lot 7: Saltmarsh shortwave receiver (on hold)')
    expect(event?.getFirstPropertyValue('description')).toContain('is stopped')
    expect(written(item())).toContain('STATUS:CONFIRMED')
  })

  it('is the same text for the same programme', () => {
    expect(written(item())).toBe(written(item()))
  })
})
