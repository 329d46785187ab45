import { describe, expect, it } from 'vitest'
import { levelsTo, plotDay, sayDay, withNow } from '#app/_ui/meter-day.rules.ts'
import { sayBasis, sayChance, sayDoubts, sayTarget } from '#app/(bench)/bench/money/_forecast/forecast.rules.ts'
import { bookParts } from '#app/(bench)/bench/money/parts.rules.ts'
import type { ForecastFrame } from '#money/forecast/forecast.contract'
import { forecast } from '#money/forecast/forecast.rules'
import type { DayFrame } from '#money/pictures/pictures.contract'

const HOUR = 3_600_000
const NOON = Date.parse('2027-03-13T12:00:00Z')
const point = (at: number, paidMinor: number, wonMinor: number, bidMinor: number) => ({ at, paidMinor, wonMinor, bidMinor })
const day: DayFrame = {
  currency: 'GBP',
  zone: 'Europe/London',
  targetMinor: 100_000,
  fromAt: NOON,
  toAt: NOON + 10 * HOUR,
  at: NOON + 5 * HOUR,
  points: [point(NOON, 0, 0, 10_000), point(NOON + 2 * HOUR, 0, 20_000, 0)],
  closes: [{ ...point(NOON + 2 * HOUR, 0, 20_000, 0), lot: 1, hammerMinor: 20_000 }],
}

describe('the line of the day as a picture', () => {
  it('each layer lies upon the one below, level until the next change', () => {
    const { layers, targetAt, nowAt } = plotDay(day, withNow(day.points, point(NOON + 5 * HOUR, 20_000, 0, 5_000)))
    expect(layers.map(({ layer }) => layer)).toEqual(['paid', 'won', 'bid'])
    const won = layers[1]?.outline ?? []
    expect(won.slice(0, 3).map(([x]) => x)).toEqual([0, 20, 20])
    expect(won[0]?.[1]).toBe(100)
    expect(won[1]?.[1]).toBe(100)
    expect(won[2]?.[1]).toBeLessThan(100)
    expect(targetAt).toBeCloseTo(100 - 100 / 1.08, 6)
    expect(nowAt).toBe(50)
  })

  it('closes that lie together stand in rows', () => {
    const close = (lot: number, minutes: number) => ({ ...point(NOON + minutes * 60_000, 0, 0, 0), lot, hammerMinor: null })
    const { closes } = plotDay({ ...day, closes: [close(1, 60), close(2, 65), close(3, 200)] }, day.points)
    expect(closes.map(({ row }) => row)).toEqual([0, 1, 0])
  })

  it('is told in words', () => {
    expect(sayDay(point(NOON + 5 * HOUR, 20_000, 0, 5_000), day, 'GBP')).toBe(
      'At 17:00 £250 of £1,000 counts: £200 paid, £0 won, £50 in bids; one lot is over.',
    )
  })

  it.each([
    [150_000, [50_000, 100_000, 150_000]],
    [99, [20, 40, 60, 80]],
    [1, [1]],
  ])('the scale to %i has round steps', (top, levels) => {
    expect(levelsTo(top)).toEqual(levels)
  })
})

describe('the forecast in words', () => {
  const lot = { title: 'A lot', isOpen: true, standingMinor: null, openingMinor: 0, reserveMinor: null }
  const found = (targetMinor: number): ForecastFrame => ({
    currency: 'GBP',
    targetMinor,
    drafts: [9],
    ...forecast({
      lots: [
        { ...lot, number: 1, lowMinor: 10_000, likelyMinor: 20_000, highMinor: 30_000 },
        { ...lot, number: 2, lowMinor: null, likelyMinor: null, highMinor: null },
        { ...lot, number: 3, standingMinor: 5_000, lowMinor: null, likelyMinor: null, highMinor: null },
      ],
      drafts: [9],
      shareBp: 10_000,
      targetMinor,
      lotsFixedMinor: 0,
      giftMinor: 0,
      promises: [],
    }),
  })

  it('claims no certainty that is none', () => {
    expect([0, 0.004, 0.5, 0.996, 1].map(sayChance)).toEqual(['0 %', 'under 1 %', '50 %', 'over 99 %', '100 %'])
    expect(sayTarget(found(25_000)).head).toBe('50 %')
    expect(sayTarget(found(40_000)).rest).toContain('even at their most the lots bring it to £350')
    expect(sayTarget(found(15_000)).head).toBe('Reached:')
  })

  it('says when it is guessing, and on what each lot rests', () => {
    expect(sayDoubts(found(25_000))).toEqual([
      'More than half of what is still expected is a guess.',
      'Nobody has bid on lot 1: there is only the estimate to go by.',
      'For lot 3 there is no low and high estimate, so the range is too narrow.',
      'Nothing is known about lot 2: left out.',
      'Not counted, still a draft: lot 9.',
    ])
    expect(sayBasis({ basis: 'passed', hasBid: true })).toContain('has passed the estimate')
  })
})

it('the host sees how far we are and no books, a bidder neither', () => {
  expect(bookParts('host').map(({ href }) => href)).toEqual(['/bench/money'])
  expect(bookParts('treasurer').length).toBeGreaterThan(3)
  expect(bookParts('bidder')).toEqual([])
})
