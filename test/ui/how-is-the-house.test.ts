import { expect, it } from 'vitest'
import { figureOf } from '#app/(bench)/bench/house/figure.rules.ts'
import { placesOf, sayHours } from '#app/(bench)/bench/house/hours.rules.ts'
import { sayHouse } from '#app/(bench)/bench/house/standing.rules.ts'
import { MINUTE } from '#kernel/instant'
import type { VitalView } from '#people/vitals/vitals.contract'
import type { Piece, Standing } from '#runtime/vitals/vital'
import { NOON } from '#test/stage'

const upTo = (upper: number) => ({ lower: null, upper })

it.each([
  ['a lag', { value: 0.0123, unit: 'seconds', limits: upTo(1) }, '12.3 ms', 1000],
  ['an age', { value: 4.04, unit: 'seconds', limits: upTo(30) }, '4.04 s', 30],
  ['a mail that fails', { value: 300, unit: 'seconds', limits: upTo(600) }, '5 min', 10],
  ['a copy', { value: 5400, unit: 'seconds', limits: upTo(7200) }, '1.5 h', 2],
  ['a log', { value: 4 * 1024 ** 2, unit: 'bytes', limits: upTo(512 * 1024 ** 2) }, '4 MB', 512],
  ['open files', { value: 12, unit: 'count', limits: upTo(900) }, '12', 900],
] as const)('%s is shown in a unit that reads well beside its limit', (_case, vital, shown, upper) => {
  expect(figureOf(vital)).toMatchObject({ shown, upper })
})

it('what has no figure or no limit has no gauge', () => {
  expect(figureOf({ value: null, unit: 'seconds', limits: upTo(30) })).toBeNull()
  expect(figureOf({ value: 3, unit: 'count', limits: { lower: null, upper: null } })).toBeNull()
})

const piece = (minutesAgo: number, standing: Standing): Piece => ({ at: NOON - minutesAgo * MINUTE, value: 1, standing })

it('a strip ends now, and leaves out what is older than six hours', () => {
  const places = placesOf([piece(365, 'bad'), piece(355, 'good'), piece(5, 'look'), piece(0, 'bad')], NOON)
  expect(places.map(({ place, standing }) => [place, standing])).toEqual([
    [0, 'good'],
    [70, 'look'],
    [71, 'bad'],
  ])
})

it('a strip is a sentence to whoever hears it', () => {
  expect(sayHours('Mail', [])).toBe('Mail: nothing is known yet about the last few hours.')
  expect(sayHours('Mail', [piece(5, 'good'), piece(0, 'good')])).toBe('Mail, over the last 10 minutes: good all the time.')
  expect(sayHours('Mail', [piece(10, 'bad'), piece(5, 'bad'), piece(0, 'look')])).toBe(
    'Mail, over the last 15 minutes: bad for up to 10 minutes, worth a look for up to 5 minutes.',
  )
})

it('the house is told in one line by the worst of it', () => {
  const vital = (name: string, standing: Standing) => ({ name, standing }) as VitalView
  const say = (standing: Standing, ...vitals: VitalView[]) => sayHouse({ standing, vitals }).title
  expect(say('good', vital('Mail', 'good'))).toBe('The house is well.')
  expect(say('look', vital('Mail', 'look'), vital('Clock', 'good'))).toBe('The house does its work. Worth a look: Mail.')
  expect(say('bad', vital('Mail', 'bad'), vital('Clock', 'look'))).toBe('The house needs you: Mail.')
})
