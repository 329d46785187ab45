import fc from 'fast-check'
import { expect, it } from 'vitest'
import { causeShare } from '#money/journal/journal.rules'
import { exactShare, roundedWords } from '#money/journal/rounding.rules'

it('87.5 % of 1,700.00 is 1,487.50 to the penny, so nothing is said of it', () => {
  expect(exactShare(170_000, 8_750, 'GBP')).toBe('1487.50')
  expect(roundedWords({ priceMinor: 170_000, shareBp: 8_750, causeMinor: 148_750, currency: 'GBP' })).toBeNull()
})

it('a share that is no whole penny is told with every decimal, and to what it was rounded', () => {
  expect(roundedWords({ priceMinor: 6_101, shareBp: 8_750, causeMinor: 5_338, currency: 'GBP' })).toBe(
    '87.5 % of £61.01 is £53.38375, rounded to £53.38.',
  )
  expect(roundedWords({ priceMinor: 1, shareBp: 5_000, causeMinor: 1, currency: 'EUR' })).toBe('50 % of €0.01 is €0.005, rounded to €0.01.')
})

it('yen have no decimals of their own, dinars have three', () => {
  expect(exactShare(1_701, 8_750, 'JPY')).toBe('1488.375')
  expect(exactShare(1_701, 8_750, 'KWD')).toBe('1.488375')
  expect(exactShare(1_600, 8_750, 'JPY')).toBe('1400')
})

it('what was booked in several rounded steps says so', () => {
  expect(roundedWords({ priceMinor: 4_999, shareBp: 8_750, causeMinor: 4_375, currency: 'GBP' })).toBe(
    '87.5 % of £49.99 is £43.74125, rounded to £43.74; booked in several steps, each rounded, it comes to £43.75.',
  )
})

it('the exact share lies within half a minor unit of the rounded one', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 100_000_000 }), fc.integer({ min: 0, max: 10_000 }), (priceMinor, shareBp) => {
      const exact = Number(exactShare(priceMinor, shareBp, 'JPY'))
      expect(Math.abs(exact - causeShare(priceMinor, shareBp))).toBeLessThanOrEqual(0.5)
    }),
  )
})
