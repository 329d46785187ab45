import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { type DayMark, placeDay, sayDay } from '#app/_ui/dayline.rules.ts'
import { Dayline } from '#app/_ui/dayline.tsx'
import { HOUR, MINUTE } from '#kernel/instant'

const OPENS = Date.UTC(2027, 2, 13, 13)
const mark = (hours: number, kind: DayMark['kind'], label = `Lot ${hours}`): DayMark => ({ at: OPENS + hours * HOUR, kind, label })
const day = {
  opensAt: OPENS,
  closesAt: OPENS + 12 * HOUR,
  now: OPENS + 6 * HOUR,
  zone: 'Europe/London',
  marks: [mark(3, 'past'), mark(6.5, 'this', 'Lot 7'), mark(9, 'coming')],
}

test('closings and now stand where they fall between opening and end', () => {
  const places = placeDay(day)
  expect(places).toMatchObject({ now: 0.5, dot: 0.5, from: '13:00', to: '01:00', showFrom: true, showTo: true })
  expect(places.marks.map(({ place }) => place)).toEqual([0.25, 6.5 / 12, 0.75])
})

test('before the stream and after it there is no dot', () => {
  expect(placeDay({ ...day, now: OPENS - 1 }).dot).toBeNull()
  expect(placeDay({ ...day, now: OPENS }).dot).toBe(0)
  expect(placeDay({ ...day, now: day.closesAt }).dot).toBe(1)
  expect(placeDay({ ...day, now: day.closesAt + 1 }).dot).toBeNull()
})

test('a closing that was moved past the end stretches the line', () => {
  const places = placeDay({ ...day, marks: [...day.marks, mark(15, 'coming')] })
  expect(places.marks.at(-1)?.place).toBe(1)
  expect(places.to).toBe('04:00')
})

describe('times that would run into each other', () => {
  test('an end gives way to the time of this lot', () => {
    expect(placeDay({ ...day, marks: [mark(1, 'this')] })).toMatchObject({ showFrom: false, showTo: true })
    expect(placeDay({ ...day, marks: [mark(11.5, 'this')] })).toMatchObject({ showFrom: true, showTo: false })
  })
})

test('the sentence says how many, how many are past, and when this one closes', () => {
  expect(sayDay(placeDay(day))).toBe('The stream day, 13:00 to 01:00: 3 closings, 1 past. Lot 7 closes at 19:30.')
  expect(sayDay(placeDay({ ...day, marks: [] }))).toBe('The stream day, 13:00 to 01:00: 0 closings.')
})

test('through a night in which the clocks change the times are those on the wall', () => {
  // Europe/London goes from 01:00 to 02:00 on 28 March 2027.
  const opensAt = Date.UTC(2027, 2, 27, 23)
  expect(placeDay({ ...day, opensAt, closesAt: opensAt + 3 * HOUR, now: opensAt, marks: [] })).toMatchObject({ from: '23:00', to: '03:00' })
})

test('each closing is a post, and only this one has its time printed', () => {
  const markup = renderToStaticMarkup(<Dayline {...day} now={OPENS + 6 * HOUR + 30 * MINUTE} />)
  expect(markup.match(/class="mark /g)).toHaveLength(3)
  expect(markup.match(/class="mark this"/g)).toHaveLength(1)
  expect(markup).toContain('19:30')
  expect(markup).not.toContain('22:00')
})
