import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { placeGauge } from '../../server/documents/gauge.rules'

describe('a gauge', () => {
  test('fills its middle half with the pass band, whatever the unit', () => {
    expect(placeGauge({ value: 8, lower: 7.7, upper: 8.3 })).toMatchObject({ lower: 0.25, upper: 0.75, opening: 'closed', off: null })
    expect(placeGauge({ value: 8, lower: 7.7, upper: 8.3 }).value).toBeCloseTo(0.5)
    expect(placeGauge({ value: 6.355e6, lower: 6.345e6, upper: 6.365e6 })).toMatchObject({ lower: 0.25, upper: 0.75 })
  })

  test('says which side is open', () => {
    expect(placeGauge({ value: 3.1, upper: 5, nominal: 2 })).toMatchObject({
      opening: 'open-below',
      lower: null,
      upper: 0.75,
      nominal: 0.5,
    })
    expect(placeGauge({ value: 21, lower: 15, nominal: 22 })).toMatchObject({
      opening: 'open-above',
      lower: 0.25,
      upper: null,
      nominal: 0.5,
    })
  })

  test('keeps a reading far outside on the paper, and says off which end it is', () => {
    expect(placeGauge({ value: 40, lower: 7.7, upper: 8.3 })).toMatchObject({ value: 1, off: 'high' })
    expect(placeGauge({ value: -3, lower: 7.7, upper: 8.3 })).toMatchObject({ value: 0, off: 'low' })
  })

  test('puts a reading inside its limits inside the band, and one outside them outside it', () => {
    const number = fc.double({ min: -1e6, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(number, number, number, (a, b, value) => {
        const [lower, upper] = [Math.min(a, b), Math.max(a, b)]
        fc.pre(upper - lower > 1e-3)
        const place = placeGauge({ value, lower, upper }).value
        const inBand = place >= 0.25 - 1e-6 && place <= 0.75 + 1e-6
        expect(inBand).toBe(value >= lower - 1e-6 * (upper - lower) && value <= upper + 1e-6 * (upper - lower))
      }),
    )
  })
})
