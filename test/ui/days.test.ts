import { expect, test } from 'vitest'
import { daysOf } from '#app/(bench)/bench/units/[tag]/hours/days.rules.ts'
import { HOUR } from '#kernel/instant'

const at = (iso: string) => Date.parse(iso)

test('days stand on lines of the same hours, and what goes past midnight stands on both', () => {
  const work = { by: 'Wilma', from: at('2027-03-13T22:00:00Z'), to: at('2027-03-14T00:30:00Z') }
  const table = daysOf([work, { by: 'Oskar', from: at('2027-03-14T09:00:00Z'), to: at('2027-03-14T10:00:00Z') }], 'Europe/London')
  expect(table).toMatchObject({ fromHour: 0, toHour: 24 })
  expect(table.rows.map(({ words, minutes, bars }) => [words, minutes, bars.length])).toEqual([
    ['Saturday 13 March', 120, 1],
    ['Sunday 14 March', 90, 2],
  ])
  expect(table.rows[0]?.bars[0]).toMatchObject({ left: (100 * 22) / 24, width: (100 * 2) / 24 })
})

test('the day is that of the bench and not that of Greenwich', () => {
  const from = at('2027-07-01T23:10:00Z')
  expect(daysOf([{ by: 'Wilma', from, to: from + HOUR }], 'Europe/London').rows).toMatchObject([{ day: '2027-07-02', minutes: 60 }])
})

test('a machine on which nobody worked has no days', () => {
  expect(daysOf([], 'Europe/London').rows).toEqual([])
})
