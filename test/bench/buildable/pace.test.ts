import { expect, test } from 'vitest'
import { paceOf } from '#bench/buildable/pace.rules'

const WEEK = { took: new Map([['saltmarsh', 600]]), weeklyMinutes: 420, benchDays: 3, today: '2027-03-13' }
const machine = (tag: string, over = {}) => ({ tag, designKey: 'saltmarsh', minutes: 0, soakHours: 0, ...over })

test('machines are ready one after the other, at an hour a day after ten and after twenty days', () => {
  expect(paceOf([machine('TERN-04'), machine('TERN-05')], WEEK)).toEqual([
    { tag: 'TERN-04', leftMinutes: 600, isMeasured: true, readyOn: '2027-03-23' },
    { tag: 'TERN-05', leftMinutes: 600, isMeasured: true, readyOn: '2027-04-02' },
  ])
})

test('what was worked already is not left, and never less than nothing', () => {
  const rows = paceOf([machine('TERN-04', { minutes: 480 }), machine('TERN-05', { minutes: 900 })], WEEK)
  expect(rows).toMatchObject([
    { leftMinutes: 120, readyOn: '2027-03-15' },
    { leftMinutes: 0, readyOn: '2027-03-15' },
  ])
})

test('a soak runs beside the work on the next machine', () => {
  const rows = paceOf([machine('TERN-04', { soakHours: 24 }), machine('TERN-05', { soakHours: 24 })], WEEK)
  expect(rows.map(({ readyOn }) => readyOn)).toEqual(['2027-03-24', '2027-04-03'])
})

test('where no machine of a design is finished it takes the days that were said', () => {
  expect(paceOf([machine('WREN-01', { designKey: 'tidemill' })], WEEK)).toEqual([
    { tag: 'WREN-01', leftMinutes: 180, isMeasured: false, readyOn: '2027-03-16' },
  ])
})
