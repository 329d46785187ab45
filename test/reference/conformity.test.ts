import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import {
  combined,
  conformityOfRectangle,
  decideVerdict,
  isPass,
  probabilityOfConformity,
  uncertaintyOf,
  uncertaintyOfMean,
} from '#bench/units/verdict.rules'

describe('ILAC-G8:09/2019, table 1: the risk of a wrong pass at the acceptance limit, by guard band w = r U, U = 2u', () => {
  it.each([
    ['6 sigma', 3, 1e-6],
    ['3 sigma', 1.5, 0.0016],
    ['ISO 14253-1:2017', 0.83, 0.05],
    ['simple acceptance', 0, 0.5],
  ])('%s, r = %d, is published as below %d', (_rule, ratio, published) => {
    const u = 0.5
    const limit = 10
    const risk = 1 - probabilityOfConformity(limit - ratio * 2 * u, u, { lower: null, upper: limit })
    // Published bounds are rounded upward: the exact normal tail is the figure to meet.
    expect(risk).toBeCloseTo(normalCdf(-2 * ratio, 0, 1), 9)
    expect(risk).toBeLessThanOrEqual(published)
  })
})

describe('ILAC-G8:09/2019, 4.2.3: with w = U', () => {
  it('the last reading that passes without doubt is wrong in at most 2.5 % of cases', () => {
    const u = 0.04
    const limits = { lower: 1499.8, upper: 1500.2 }
    expect(isPass(decideVerdict(1500.12, limits, 'guarded', 2 * u))).toBe(true)
    expect(isPass(decideVerdict(1500.121, limits, 'guarded', 2 * u))).toBe(false)
    expect(1 - probabilityOfConformity(1500.12, u, limits)).toBeLessThanOrEqual(0.025)
  })
})

describe('JCGM 106:2012, 7.2 to 7.4 (from memory)', () => {
  it('a breakdown voltage of −5.47 V with u = 0.05 V against an upper limit of −5.40 V conforms with 0.92', () => {
    const p = probabilityOfConformity(-5.47, 0.05, { lower: null, upper: -5.4 })
    expect(p).toBeCloseTo(0.9192433407662273, 12)
    expect(Math.round(p * 100) / 100).toBe(0.92)
  })
})

describe('JCGM 106:2012, 9.5.4: resistors of 1500 Ω ± 0.2 Ω', () => {
  it('drawn from a process of 1500 Ω with a standard deviation of 0.12 Ω conform with 0.9044 before any is measured', () => {
    expect(probabilityOfConformity(1500, 0.12, { lower: 1499.8, upper: 1500.2 })).toBeCloseTo(0.9044192954544461, 12)
  })
})

describe('JCGM 100:2008, 4.3.7: a value known only to lie within ±a', () => {
  it.each([
    [1, 0.5773502691896258],
    [0.05, 0.02886751345948129],
  ])('a = %d has a standard uncertainty of a/√3 = %d', (a, u) => {
    expect(uncertaintyOf(a).standard).toBeCloseTo(u, 15)
    expect(uncertaintyOf(a).expanded).toBeCloseTo(2 * u, 15)
  })
})

describe('JCGM 100:2008, annex H.1: the end gauge', () => {
  it('the parts of its budget, 25, 9.7, 2.9 and 16.6 nm, come to u = 32 nm', () => {
    const u = combined([25, 9.7, 2.9, 16.6])
    expect(Math.round(u)).toBe(32)
    expect(Math.abs(u ** 2 - 1002)).toBeLessThan(3)
  })
  it('the calibrated difference, of 5.8, 3.9 and 6.7 nm, has 9.7 nm', () => {
    expect(combined([5.8, 3.9, 6.7])).toBeCloseTo(9.7, 1)
  })
})

describe('JCGM 100:2008, table H.2 (from memory): five voltages, of which the mean has 0.0032 V', () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999]
  it('as a bare standard deviation of the mean; of so few more is said', () => {
    expect(uncertaintyOfMean(volts) / (2.87 / 2)).toBeCloseTo(0.0032, 4)
  })
})

describe('JCGM 106:2012: everything within ±a alike', () => {
  it.each([
    [8.25, 0.1, 0.75],
    [8.3, 0.1, 0.5],
    [8.2, 0.1, 1],
    [8.45, 0.1, 0],
  ])('%d ± %d against 8.3 at most conforms with %d', (value, a, chance) => {
    expect(conformityOfRectangle(value, a, { lower: null, upper: 8.3 })).toBeCloseTo(chance, 12)
  })
})
