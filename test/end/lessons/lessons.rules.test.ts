import fc from 'fast-check'
import { expect, it } from 'vitest'
import { byHourOfDay, daysBetween, gaveAgain, waitedOf } from '#end/lessons/lessons.rules'
import { DAY } from '#kernel/instant'
import { medianOf, spreadOf } from '#kernel/spread'

it('adds up by hour of the day, and loses nothing', () => {
  const fact = fc.record({ hour: fc.integer({ min: 0, max: 23 }), raisedMinor: fc.nat(9_999), bids: fc.nat(9) })
  fc.assert(
    fc.property(fc.array(fact), (facts) => {
      const hours = byHourOfDay(facts)
      const sum = (of: 'raisedMinor' | 'bids', all: typeof facts) => all.reduce((total, one) => total + one[of], 0)
      expect(sum('raisedMinor', hours)).toBe(sum('raisedMinor', facts))
      expect(sum('bids', hours)).toBe(sum('bids', facts))
      expect(hours.map(({ hour }) => hour)).toEqual([...new Set(hours.map(({ hour }) => hour))].sort((a, b) => a - b))
    }),
  )
})

it('puts every gift in one line, by how long it waited', () => {
  const at = (days: number | null) => ({ arrivedAt: 0, firstAt: days === null ? null : days * DAY })
  expect(waitedOf([at(0), at(6), at(7), at(29), at(30), at(90), at(91), at(400), at(null)])).toEqual([
    { words: 'within a week', gifts: 2 },
    { words: 'within a month', gifts: 2 },
    { words: 'within three months', gifts: 2 },
    { words: 'later', gifts: 2 },
    { words: 'not fitted yet', gifts: 1 },
  ])
  expect(daysBetween(DAY, 0)).toBe(0)
})

it('tells who gave in more than one campaign, the most faithful first', () => {
  const gave = (name: string, campaign: number) => ({ donorId: name, name, campaign })
  expect(gaveAgain([gave('Bo', 1), gave('Bo', 1), gave('Ada', 1), gave('Ada', 2), gave('Cy', 1), gave('Cy', 2), gave('Cy', 3)])).toEqual({
    all: 3,
    again: [
      { donorId: 'Cy', name: 'Cy', campaigns: 3 },
      { donorId: 'Ada', name: 'Ada', campaigns: 2 },
    ],
  })
})

it('finds the middle as sorting and counting off from both ends does', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(9_999), { minLength: 1, maxLength: 30 }), (values) => {
      const left = [...values].sort((a, b) => a - b)
      while (left.length > 2) left.splice(0, 1, ...left.splice(-1, 1).slice(1))
      const middle = left.length === 1 ? (left[0] ?? 0) : Math.round(((left[0] ?? 0) + (left[1] ?? 0)) / 2)
      expect(medianOf(values)).toBe(middle)
      expect(spreadOf(values)).toEqual({ many: values.length, least: Math.min(...values), middle, most: Math.max(...values) })
    }),
  )
  expect(spreadOf([])).toBeNull()
})
