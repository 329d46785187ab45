import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { placeGauge, sayLimits, showLimits } from '#app/_ui/gauge.rules.ts'
import { Gauge } from '#app/_ui/gauge.tsx'

const RAIL = { lower: 7.7, upper: 8.3, nominal: 8 }

describe('two limits', () => {
  test('the band fills the middle half', () => {
    const places = placeGauge({ ...RAIL, value: 8 })
    expect(places).toMatchObject({ opening: 'closed', lower: 0.25, upper: 0.75, off: null })
    expect(places.value).toBeCloseTo(0.5, 10)
    expect(places.nominal).toBeCloseTo(0.5, 10)
  })
  test('a value on a limit stands on its post, one millivolt beyond it outside', () => {
    expect(placeGauge({ ...RAIL, value: 8.3 }).value).toBeCloseTo(0.75, 10)
    expect(placeGauge({ ...RAIL, value: 8.299 }).value).toBeLessThan(0.75)
    expect(placeGauge({ ...RAIL, value: 8.301 }).value).toBeGreaterThan(0.75)
  })
  test('the scale ends half a band beyond each limit; further out is said and not drawn', () => {
    expect(placeGauge({ ...RAIL, value: 8.59 }).off).toBeNull()
    expect(placeGauge({ ...RAIL, value: 8.61 })).toMatchObject({ off: 'high', value: 1 })
    expect(placeGauge({ ...RAIL, value: -5 })).toMatchObject({ off: 'low', value: 0 })
    expect(placeGauge({ ...RAIL, value: Number.POSITIVE_INFINITY })).toMatchObject({ off: 'high', value: 1 })
  })
  test('the doubt reaches U to both sides and is cut at the ends', () => {
    const { doubt } = placeGauge({ ...RAIL, value: 8, doubt: 0.3 })
    expect(doubt?.from).toBeCloseTo(0.25, 10)
    expect(doubt?.to).toBeCloseTo(0.75, 10)
    expect(placeGauge({ ...RAIL, value: 8, doubt: 50 }).doubt).toEqual({ from: 0, to: 1 })
    expect(placeGauge({ ...RAIL, value: 8, doubt: 0 }).doubt).toBeNull()
  })
})

describe('one limit', () => {
  test('under an upper limit without a nominal the other edge stands for zero', () => {
    const places = placeGauge({ value: 0, upper: 5 })
    expect(places).toMatchObject({ opening: 'open-below', lower: null, upper: 0.75, value: 0.25 })
    expect(placeGauge({ value: 5, upper: 5 }).value).toBeCloseTo(0.75, 10)
    expect(placeGauge({ value: 5.1, upper: 5 }).value).toBeGreaterThan(0.75)
  })
  test('above a lower limit without a nominal the other edge stands for twice the limit', () => {
    const places = placeGauge({ value: 30, lower: 15 })
    expect(places).toMatchObject({ opening: 'open-above', lower: 0.25, upper: null, value: 0.75 })
    expect(placeGauge({ value: 14.9, lower: 15 }).value).toBeLessThan(0.25)
  })
  test('a nominal on the permitted side stands in the middle', () => {
    expect(placeGauge({ value: 3, upper: 5, nominal: 3 }).value).toBeCloseTo(0.5, 10)
    expect(placeGauge({ value: 20, lower: 15, nominal: 20 }).value).toBeCloseTo(0.5, 10)
  })
  test('a limit below zero, and one of zero, still have a scale', () => {
    expect(placeGauge({ value: -60, upper: -40 })).toMatchObject({ upper: 0.75, off: null })
    expect(placeGauge({ value: -30, upper: -40 }).value).toBeGreaterThan(0.75)
    expect(placeGauge({ value: 0, upper: 0 }).value).toBeCloseTo(0.75, 10)
    expect(placeGauge({ value: 1, upper: 0 }).value).toBe(1)
  })
})

describe('an exact count', () => {
  test('stands in the middle, one socket for one', () => {
    expect(placeGauge({ value: 16, lower: 16, upper: 16 }).value).toBe(0.5)
    expect(placeGauge({ value: 15, lower: 16, upper: 16 }).value).toBe(0.375)
    expect(placeGauge({ value: 11, lower: 16, upper: 16 }).off).toBe('low')
  })
})

test('inside the limits is inside the band and outside is outside, whatever the figures', () => {
  const figure = fc.double({ min: -1e6, max: 1e6, noNaN: true })
  fc.assert(
    fc.property(figure, fc.double({ min: 1e-3, max: 1e6, noNaN: true }), figure, (lower, width, value) => {
      const upper = lower + width
      const places = placeGauge({ value, lower, upper })
      const slack = 1e-6
      if (value > lower && value < upper) {
        expect(places.value).toBeGreaterThanOrEqual(0.25 - slack)
        expect(places.value).toBeLessThanOrEqual(0.75 + slack)
      }
      if (value < lower) expect(places.value).toBeLessThanOrEqual(0.25 + slack)
      if (value > upper) expect(places.value).toBeGreaterThanOrEqual(0.75 - slack)
    }),
  )
})

test('limits that cross and a value that is no number are refused', () => {
  expect(() => placeGauge({ value: 1, lower: 2, upper: 1 })).toThrow(/not above/)
  expect(() => placeGauge({ value: Number.NaN, lower: 1, upper: 2 })).toThrow(/a number/)
})

describe('what is heard', () => {
  const label = (markup: string) => /aria-label="([^"]*)"/.exec(markup)?.[1]
  test('the whole reading in a sentence, with its doubt and its verdict', () => {
    const markup = renderToStaticMarkup(<Gauge name="Regulated rail" {...RAIL} value={8.02} doubt={0.05} unit="V" verdict="pass" />)
    expect(markup).toContain('role="img"')
    expect(label(markup)).toBe('Regulated rail: 8.02 V, give or take 0.05 V, limits 7.7 to 8.3 V: pass.')
  })
  test('round as it is written, whatever the reckoning leaves in the last places', () => {
    const markup = renderToStaticMarkup(
      <Gauge name="Resistance" value={0.1 + 0.2} lower={0.1 * 3} upper={4.1} doubt={0.04138446729551237} unit="kΩ" verdict="pass" />,
    )
    expect(label(markup)).toBe('Resistance: 0.3 kΩ, give or take 0.041 kΩ, limits 0.3 to 4.1 kΩ: pass.')
  })
  test('off the scale, as it was entered, and not yet judged', () => {
    expect(label(renderToStaticMarkup(<Gauge name="Current" value={0.9} upper={0.04} unit="A" shown="900 mA" />))).toBe(
      'Current: 900 mA, off the high end of the scale, at most 0.04 A.',
    )
  })
  test('limits of each kind', () => {
    expect(sayLimits(null, null)).toBe('no limits')
    expect(sayLimits(15, null, 'dB')).toBe('at least 15 dB')
    expect(sayLimits(0, 0)).toBe('exactly 0')
    expect([showLimits(7.7, 8.3), showLimits(null, 5), showLimits(15, null), showLimits(16, 16), showLimits(null, null)]).toEqual([
      '7.7 – 8.3',
      '≤ 5',
      '≥ 15',
      '= 16',
      'none',
    ])
    expect([showLimits(-10, 10), showLimits(-5, -1), showLimits(null, -66)]).toEqual(['−10 to 10', '−5 to −1', '≤ −66'])
  })
})

test('each verdict has a shape of its own, not only a colour', () => {
  const shapes = (['pass', 'pass within doubt', 'fail within doubt', 'fail'] as const).map((verdict) => {
    const markup = renderToStaticMarkup(<Gauge name="Rail" {...RAIL} value={8} verdict={verdict} />)
    return markup.slice(markup.lastIndexOf('<g'))
  })
  expect(new Set(shapes).size).toBe(4)
})

test('an open side shows chevrons and no post', () => {
  const open = renderToStaticMarkup(<Gauge name="Ripple" value={3} upper={5} />)
  expect(open.match(/class="chevron"/g)).toHaveLength(1)
  expect(open.match(/class="post"/g)).toHaveLength(1)
  const closed = renderToStaticMarkup(<Gauge name="Rail" {...RAIL} value={8} />)
  expect(closed).not.toContain('chevron')
  expect(closed.match(/class="post"/g)).toHaveLength(2)
})
