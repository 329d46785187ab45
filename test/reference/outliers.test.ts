import { describe, expect, it } from 'vitest'
import { grubbsLimit, modifiedZ, spreadOf } from '#bench/faults/spread.rules'
import { chances } from '#test/make/search'

const of = (values: number[], doubt: number | null = null, step: number | null = null) =>
  values.map((value, index) => ({ tag: `A-${index + 1}`, value, doubt, step }))

describe('Grubbs’ test', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1: mass spectrometer, uranium isotope standard (Tietjen and Moore 1972). From memory.
  const NIST = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]

  it('the eight readings of the handbook: G = 2.4687, and 245.57 stands apart', () => {
    expect(spreadOf(of(NIST))).toMatchObject({ rule: 'grubbs', apart: [{ tag: 'A-8', score: expect.closeTo(2.4687, 3) }] })
  })

  // Critical values of Grubbs and Beck 1972, Technometrics 14, 847-854, table I, upper 2.5 % and 0.5 %, which are two-sided 5 % and 1 %. From memory.
  it.each([
    [3, 1.155, 1.155],
    [4, 1.481, 1.496],
    [5, 1.715, 1.764],
    [6, 1.887, 1.973],
    [7, 2.02, 2.139],
    [8, 2.126, 2.274],
    [9, 2.215, 2.387],
    [10, 2.29, 2.482],
  ])('the table’s critical values for %i readings', (count, five, one) => {
    expect(grubbsLimit(count, 0.05)).toBeCloseTo(five, 2)
    expect(grubbsLimit(count, 0.01)).toBeCloseTo(one, 2)
  })
})

describe('the modified z-score', () => {
  it('is worked by hand: of 1 to 9 and 30 the middle is 5.5, the median of the distances 2.5, and 30 scores 6.61', () => {
    const readings = of([1, 2, 3, 4, 5, 6, 7, 8, 9, 30])
    expect(spreadOf(readings)).toMatchObject({
      rule: 'modified z',
      median: 5.5,
      apart: [{ tag: 'A-10', score: expect.closeTo((0.6745 * 24.5) / 2.5, 6) }],
    })
  })

  it('two strays on one side do not hide each other', () => {
    expect(spreadOf(of([5, 5.1, 4.9, 5, 5.2, 4.8, 5.1, 4.9, 9, 9.1]))?.apart.map(({ tag }) => tag)).toEqual(['A-9', 'A-10'])
  })

  it('where more than half read the same the mean distance serves in place of the median one', () => {
    expect(modifiedZ(of([5, 5, 5, 5, 5, 5, 5, 5, 5, 8]), 5)).toMatchObject([
      { tag: 'A-10', score: expect.closeTo(3 / (1.253314 * 0.3), 4) },
    ])
  })
})

describe('who stands apart', () => {
  it('nobody of two, of equals, or of none', () => {
    expect(spreadOf(of([1, 9]))).toMatchObject({ rule: 'none', apart: [] })
    expect(spreadOf(of([4, 4, 4, 4]))?.apart).toEqual([])
    expect(spreadOf([])).toBeNull()
  })

  it('nobody who differs by no more than the doubt of the reading', () => {
    expect(spreadOf(of([8, 8, 8, 8.05], 0.01))?.apart.map(({ tag }) => tag)).toEqual(['A-4'])
    expect(spreadOf(of([8, 8, 8, 8.05], 0.08))?.apart).toEqual([])
  })

  it('nobody of three of whom two read the same to the last digit, nor who is off by one step beside the doubt', () => {
    expect(spreadOf(of([5, 5, 5.01], null, 0.01))?.apart).toEqual([])
    expect(spreadOf(of([5, 5, 9], null, 0.01))?.apart).toEqual([])
    expect(spreadOf(of([5, 5.01, 5, 5.01, 5.4], 0.05, 0.01))?.apart.map(({ tag }) => tag)).toEqual(['A-5'])
    expect(spreadOf(of([5, 5.01, 5, 5.01, 5.4], 0.39, 0.01))?.apart).toEqual([])
  })

  it.each([3, 5, 9].flatMap((count) => [1 / 3, 1, 3].map((step) => [count, step] as const)))(
    'of %i good readings rounded to %f deviations, in at most about one run in a hundred',
    (count, step) => {
      const chance = chances(count * 100 + step)
      const normal = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())
      const runs = 4000
      const rounded = () => Array.from({ length: count }, () => Math.round(normal() / step) * step)
      const named = Array.from({ length: runs }, () => spreadOf(of(rounded(), null, step))?.apart.length ?? 0).filter(Boolean).length
      expect(named / runs).toBeLessThan(0.015)
    },
  )

  it('mean and deviation are those of any table: 2, 4, 4, 4, 5, 5, 7, 9 has mean 5 and s = √(32/7)', () => {
    const spread = spreadOf(of([2, 4, 4, 4, 5, 5, 7, 9]))
    expect(spread).toMatchObject({ mean: 5, median: 4.5, least: 2, most: 9 })
    expect(spread?.deviation).toBeCloseTo(Math.sqrt(32 / 7), 12)
  })
})
