import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bestSample, contradicts, offsetOf } from '#kernel/clock-offset.rules'

test('of several samples the one with the least delay is believed', () => {
  const slow = { offset: 900, delay: 800 }
  const quick = { offset: 510, delay: 20 }
  expect(bestSample([slow, quick, { offset: 700, delay: 300 }])).toEqual(quick)
  expect(bestSample([])).toBeNull()
})

test('a sample older than the last eight is forgotten', () => {
  const old = { offset: 1, delay: 1 }
  const later = Array.from({ length: 8 }, () => ({ offset: 500, delay: 40 }))
  expect(bestSample([old, ...later])).toEqual({ offset: 500, delay: 40 })
})

test('whatever the two ways take, the offset is wrong by half the delay at most', () => {
  const way = fc.integer({ min: 0, max: 5_000 })
  fc.assert(
    fc.property(fc.integer({ min: -86_400_000, max: 86_400_000 }), way, way, way, (offset, there, within, back) => {
      const asked = 1_000_000
      const received = asked + there + offset
      const answered = received + within
      const sample = offsetOf({ asked, received, answered, heard: answered - offset + back })
      expect(Math.abs(sample.offset - offset)).toBeLessThanOrEqual(sample.delay / 2)
      expect(sample.delay).toBe(there + back)
      // What the other clock says by itself, a while on the way, never counts as a clock that was set.
      expect(contradicts(sample, answered + 1000, answered + 1000 - offset + 700)).toBe(false)
    }),
  )
})

test('a clock that was set forward or back is noticed from the next time that it sends', () => {
  const sample = { offset: 500, delay: 40 }
  expect(contradicts(sample, 10_000 + 60_000, 10_000)).toBe(true)
  expect(contradicts(sample, 10_000 - 60_000, 10_000)).toBe(true)
  expect(contradicts(sample, 10_510, 10_000)).toBe(false)
})
