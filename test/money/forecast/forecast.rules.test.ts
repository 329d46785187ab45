import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type ForecastIn, forecast } from '#money/forecast/forecast.rules'
import { type LotToCome, outlookOf } from '#money/forecast/outlook.rules'

const lot = (number: number, change: Partial<LotToCome> = {}): LotToCome => ({
  number,
  title: `Lot ${number}`,
  isOpen: true,
  standingMinor: null,
  openingMinor: 2_000,
  lowMinor: 12_000,
  likelyMinor: 18_000,
  highMinor: 24_000,
  ...change,
})
const input = (lots: LotToCome[], change: Partial<ForecastIn> = {}): ForecastIn => ({
  lots,
  drafts: [],
  shareBp: 10_000,
  targetMinor: 50_000,
  lotsFixedMinor: 0,
  giftMinor: 0,
  promises: [],
  ...change,
})
const none = { lowMinor: null, likelyMinor: null, highMinor: null }

describe('the outlook of one lot', () => {
  it('is never below what stands, and rises with it', () => {
    const outlook = outlookOf(lot(1, { standingMinor: 17_000 }))
    expect(outlook).toMatchObject({ basis: 'estimate', leastMinor: 17_000, mostMinor: 24_000 })
    expect(outlook.atMost(16_999)).toBe(0)
    expect(outlook.atMost(24_000)).toBeCloseTo(1, 12)
  })

  it('a bid above the high estimate is taken as it stands, one at it as well', () => {
    expect(outlookOf(lot(1, { standingMinor: 24_000 }))).toMatchObject({ basis: 'passed', leastMinor: 24_000, mostMinor: 24_000 })
    expect(outlookOf(lot(1, { standingMinor: 23_999 }))).toMatchObject({ basis: 'estimate' })
  })

  it('without an estimate only the bid counts, without a bid nothing does', () => {
    expect(outlookOf(lot(1, { ...none, standingMinor: 9_000 }))).toMatchObject({ basis: 'bid alone', mostMinor: 9_000 })
    expect(outlookOf(lot(1, none))).toMatchObject({ basis: 'nothing', mostMinor: 0 })
  })

  it('may stay unsold below its opening price', () => {
    const opening = outlookOf(lot(1, { openingMinor: 18_000 }))
    expect(opening.leastMinor).toBe(0)
    expect(opening.atMost(0)).toBeCloseTo(0.5, 6)
    expect(opening.atMost(17_999)).toBeCloseTo(0.5, 6)
  })

  it('a range without a likely is alike all over; one figure has no spread', () => {
    expect(outlookOf(lot(1, { likelyMinor: null })).atMost(18_000)).toBeCloseTo(0.5, 6)
    expect(outlookOf(lot(1, { lowMinor: null }))).toMatchObject({ basis: 'one figure', leastMinor: 18_000, mostMinor: 18_000 })
    expect(outlookOf(lot(1, { lowMinor: 18_000, highMinor: 18_000 }))).toMatchObject({ basis: 'one figure' })
  })
})

describe('the forecast', () => {
  it('of lots with symmetric estimates is their likely sum, and reaching that is even odds', () => {
    const lots = [lot(1), lot(2), lot(3)]
    const found = forecast(input(lots, { targetMinor: 54_000 }))
    expect(found.expectedMinor).toBeGreaterThan(53_900)
    expect(found.expectedMinor).toBeLessThan(54_100)
    expect(Math.abs(found.chance - 0.5)).toBeLessThan(0.01)
    expect(found.chanceFrom).toBeLessThanOrEqual(0.5)
    expect(found.chanceTo).toBeGreaterThanOrEqual(0.5)
    expect(found.lowMinor).toBeLessThan(54_000)
    expect(found.highMinor).toBeGreaterThan(54_000)
  })

  it('what is reached is certain, what is out of reach is not', () => {
    expect(forecast(input([lot(1)], { lotsFixedMinor: 50_000 })).chance).toBe(1)
    expect(forecast(input([lot(1)], { targetMinor: 24_001 })).chance).toBe(0)
    expect(forecast(input([], { giftMinor: 700 }))).toMatchObject({
      expectedMinor: 700,
      lowMinor: 700,
      highMinor: 700,
      chance: 0,
      lots: [],
    })
    expect(forecast(input([lot(1)], { shareBp: 0 }))).toMatchObject({ expectedMinor: 0, chance: 0 })
  })

  it('names the lot that moves it most, and what it would do', () => {
    const wide = lot(2, { lowMinor: 5_000, likelyMinor: 20_000, highMinor: 60_000 })
    const { lots } = forecast(input([lot(1), wide, lot(3, { standingMinor: 23_000 })], { targetMinor: 65_000 }))
    const [first, second, third] = lots
    expect(second?.part).toBeGreaterThan(0.8)
    expect(lots.reduce((sum, { part }) => sum + part, 0)).toBeCloseTo(1, 9)
    expect(second?.chanceAtMost).toBeGreaterThan(0.99)
    expect(second?.chanceAtLeast).toBeLessThan(0.01)
    expect(first?.part).toBeGreaterThan(third?.part ?? 1)
    expect(lots.map(({ isGuess }) => isGuess)).toEqual([true, true, false])
  })

  it('the chance is the mean of its chances at what one lot may bring', () => {
    const even = lot(1, { lowMinor: 0, likelyMinor: null, highMinor: 2, openingMinor: 0 })
    const found = forecast(input([even, lot(2)], { targetMinor: 18_000 }))
    const [one] = found.lots
    expect(((one?.chanceAtLeast ?? 0) + (one?.chanceAtMost ?? 0)) / 2).toBeCloseTo(found.chance, 2)
  })

  it('matched giving follows what the lots bring, up to its cap', () => {
    const promise = { id: 'p', base: 'lots' as const, ratioBp: 10_000, capMinor: 5_000, isEnded: false, receivedMinor: 0 }
    const found = forecast(input([lot(1)], { promises: [promise] }))
    expect(found).toMatchObject({ leastMinor: 17_000, mostMinor: 29_000 })
    expect(forecast(input([lot(1)], { promises: [{ ...promise, isEnded: true, receivedMinor: 300 }] })).leastMinor).toBe(12_300)
  })

  it('a bid a few pence below the high estimate leaves a chance, not nothing at all', () => {
    const outlook = outlookOf(lot(1, { lowMinor: 1_000, likelyMinor: 1_007, highMinor: 39_999, standingMinor: 39_991, openingMinor: 0 }))
    expect(outlook.atMost(39_994)).toBeCloseTo(1 - (5 / 8) ** 5, 2)
    expect(forecast(input([lot(1, { ...outlook.lot })], { targetMinor: 39_995 })).chance).toBeGreaterThan(0)
  })

  it('a higher bid never lowers the chance, whatever the lots', () => {
    const figure = fc.integer({ min: 1_000, max: 40_000 })
    fc.assert(
      fc.property(fc.array(fc.tuple(figure, figure, figure, figure), { minLength: 1, maxLength: 4 }), figure, (rows, target) => {
        const lots = rows.map((row, index) => {
          const [low, likely, high] = row.slice(0, 3).sort((a, b) => a - b)
          return lot(index + 1, {
            lowMinor: low ?? 0,
            likelyMinor: likely ?? 0,
            highMinor: high ?? 0,
            standingMinor: row[3],
            openingMinor: 0,
          })
        })
        const raised = lots.map((each, index) => (index === 0 ? { ...each, standingMinor: (each.standingMinor ?? 0) + 3_000 } : each))
        const [before, after] = [lots, raised].map((each) => forecast(input(each, { targetMinor: target * rows.length })))
        expect(after?.chanceTo).toBeGreaterThanOrEqual((before?.chanceFrom ?? 1) - 1e-9)
        for (const found of [before, after]) {
          expect(found?.lowMinor).toBeLessThanOrEqual(found?.highMinor ?? 0)
          expect(found?.bars.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9)
          expect(found?.chanceFrom).toBeLessThanOrEqual(found?.chanceTo ?? 0)
        }
      }),
      // Each run takes milliseconds; looking for a smaller case that fails too could take an hour.
      { numRuns: 25, interruptAfterTimeLimit: 20_000 },
    )
  })
})
