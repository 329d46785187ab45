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

describe('JCGM 106:2012, 9.5.4: what the resistors that are accepted, and those that are not, turn out to be', () => {
  // Of a process of 1500 Ω with 0.12 Ω, measured with 0.04 Ω: what is known of a resistor after its reading is a normal again.
  const [made, spread, u] = [1500, 0.12, 0.04]
  const limits = { lower: 1499.8, upper: 1500.2 }
  const share = spread ** 2 / (spread ** 2 + u ** 2)
  const after = Math.sqrt(share) * u
  const seen = Math.hypot(spread, u)
  const conforms = (reading: number) => probabilityOfConformity(made + share * (reading - made), after, limits)

  /** Over all readings: how many bad ones are accepted and good ones are not, by Simpson's rule in pieces that end at the limits. */
  function risks(lowest: number, highest: number) {
    const over = (from: number, to: number, of: (reading: number) => number) => {
      const steps = 2000
      const width = (to - from) / steps
      const weight = (n: number) => (n === 0 || n === steps ? 1 : n % 2 === 1 ? 4 : 2)
      let sum = 0
      for (let n = 0; n <= steps; n++) {
        const reading = from + n * width
        const density = Math.exp(-(((reading - made) / seen) ** 2) / 2) / (seen * Math.sqrt(2 * Math.PI))
        sum += weight(n) * density * of(reading)
      }
      return (sum * width) / 3
    }
    const rejected = over(made - 10 * seen, lowest, conforms) + over(highest, made + 10 * seen, conforms)
    return { consumer: over(lowest, highest, (reading) => 1 - conforms(reading)), producer: rejected }
  }

  it.each([
    ['simple acceptance', 1499.8, 1500.2, 0.018942206717044427, 0.037207800177953596],
    ['acceptance within 1499.82 and 1500.18 Ω', 1499.82, 1500.18, 0.009878291521788315, 0.0690265104613329],
  ])('%s', (_rule, lowest, highest, consumer, producer) => {
    const found = risks(lowest, highest)
    expect(found.consumer).toBeCloseTo(consumer, 7)
    expect(found.producer).toBeCloseTo(producer, 7)
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

describe('JCGM 100:2008, annex H.1: the end gauge, from its inputs', () => {
  // u_s, d, the difference of the expansions over θ = −0.1 °C, and α_s over the difference of the temperatures; lengths in nm.
  const length = 50.000623e6
  const parts = [25, 9.7, length * 0.1 * 5.8e-7, length * 11.5e-6 * 0.029]
  it('each part is the published one, and together they are 32 nm', () => {
    expect(parts.map((part) => Math.round(10 * part) / 10)).toEqual([25, 9.7, 2.9, 16.7])
    expect(Math.round(combined(parts))).toBe(32)
  })
  it('with t99 of 16 degrees of freedom, 2.92, it is ± 93 nm', () => expect(Math.round(2.92 * Math.round(combined(parts)))).toBe(93))
})

describe('JCGM 100:2008, annex H.2: resistance and reactance measured together (observations from memory)', () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999]
  const milliamperes = [19.663, 19.639, 19.64, 19.685, 19.678]
  const radians = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
  const of = (what: (volt: number, ampere: number, phase: number) => number) =>
    volts.map((volt, k) => what(volt, (milliamperes[k] ?? 0) / 1000, radians[k] ?? 0))
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length
  // Of five readings the house says more than the bare standard deviation of the mean, by t95 of four degrees of freedom over 2.
  const bare = (values: readonly number[]) => uncertaintyOfMean(values) / (2.87 / 2)

  it.each([
    ['V', volts, 4.999, 0.0032, 4],
    ['I in mA', milliamperes, 19.661, 0.0095, 4],
    ['φ', radians, 1.04446, 0.00075, 5],
  ])('table H.2: %s', (_what, values, published, u, digits) => {
    expect(mean(values)).toBeCloseTo(published, digits - 1)
    expect(bare(values)).toBeCloseTo(u, digits)
  })
  // Approach 2 of H.2.4: each set of observations gives a value, so that what belongs together stays together.
  it.each([
    ['R', of((volt, ampere, phase) => (volt / ampere) * Math.cos(phase)), 127.732, 0.071],
    ['X', of((volt, ampere, phase) => (volt / ampere) * Math.sin(phase)), 219.847, 0.295],
    ['Z', of((volt, ampere) => volt / ampere), 254.26, 0.236],
  ])('table H.4: %s in Ω', (_what, values, published, u) => {
    expect(mean(values)).toBeCloseTo(published, 2)
    expect(bare(values)).toBeCloseTo(u, 2)
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
