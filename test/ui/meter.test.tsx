import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { placeMeter, sayMeter, sayPast } from '#app/_ui/meter.rules.ts'
import { Meter } from '#app/_ui/meter.tsx'

const HALF = { remittedMinor: 0, paidMinor: 124000, wonMinor: 61000, bidMinor: 41000, targetMinor: 300000 }
const NONE = { remittedMinor: 0, paidMinor: 0, wonMinor: 0, bidMinor: 0, targetMinor: 300000 }

describe('below the target', () => {
  test('the whole length is the target, and the tick stands at its end', () => {
    const places = placeMeter(HALF)
    expect(places).toMatchObject({ lengthMinor: 300000, target: 1, raisedMinor: 185000, pastMinor: 0 })
    expect(places.parts.map(({ state }) => state)).toEqual(['paid', 'won', 'bid'])
    expect(places.parts.at(-1)?.to).toBeCloseTo(226000 / 300000, 10)
  })
  test('standing bids are no part of what was raised', () => {
    expect(sayMeter(HALF, 'GBP')).toBe('£1,850 raised of £3,000: £1,240 paid, £610 won. £410 more in bids.')
  })
  test('with nothing it says so and draws nothing', () => {
    expect(placeMeter(NONE).parts).toEqual([])
    expect(sayMeter(NONE, 'GBP')).toBe('£0 raised of £3,000.')
  })
})

describe('at the target and past it', () => {
  const raised = (wonMinor: number, bidMinor = 0) => ({ ...NONE, wonMinor, bidMinor })
  test('a penny below, at it, a penny past', () => {
    expect(sayPast(raised(299999), 'GBP')).toBeNull()
    expect(sayPast(raised(300000), 'GBP')).toBe('The target is reached.')
    expect(sayPast(raised(300001), 'GBP')).toBe('Past the target by £0.01.')
  })
  test('the scale shrinks and the tick moves in', () => {
    const places = placeMeter(raised(400000))
    expect(places).toMatchObject({ target: 0.75, lengthMinor: 400000, pastMinor: 100000 })
    expect(places.parts[0]).toMatchObject({ from: 0, to: 1 })
  })
  test('bids that would pass it are said to be bids', () => {
    expect(sayPast(raised(185000, 150000), 'GBP')).toBe('The bids would pass the target by £350.')
    expect(sayPast(raised(185000, 115000), 'GBP')).toBeNull()
  })
})

test('parts follow one another from zero and never leave the meter', () => {
  const minor = fc.integer({ min: 0, max: 1e9 })
  fc.assert(
    fc.property(minor, minor, minor, minor, minor, (remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor) => {
      const { parts, target } = placeMeter({ remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor })
      let end = 0
      for (const part of parts) {
        expect(part.from).toBeCloseTo(end, 9)
        expect(part.to).toBeGreaterThan(part.from)
        end = part.to
      }
      expect(end).toBeLessThanOrEqual(1 + 1e-9)
      expect(target).toBeGreaterThanOrEqual(0)
      expect(target).toBeLessThanOrEqual(1)
    }),
  )
})

test('the drawn meter has its role, its figures and its words', () => {
  const markup = renderToStaticMarkup(<Meter {...HALF} currency="GBP" />)
  expect(markup).toContain('role="meter"')
  expect(markup).toContain('aria-valuenow="185000"')
  expect(markup).toContain('aria-valuemax="300000"')
  expect(markup).toContain('aria-valuetext="£1,850 raised of £3,000: £1,240 paid, £610 won. £410 more in bids."')
  expect(markup).toContain('<b>£410</b> in bids')
})

test('past the target the maximum is what was raised: a meter cannot hold more than it can', () => {
  const markup = renderToStaticMarkup(<Meter {...NONE} paidMinor={400000} currency="GBP" />)
  expect(markup).toContain('aria-valuenow="400000"')
  expect(markup).toContain('aria-valuemax="400000"')
})
