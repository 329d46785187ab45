import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import hypergeometricCdf from '@stdlib/stats-base-dists-hypergeometric-cdf'
import hypergeometricPmf from '@stdlib/stats-base-dists-hypergeometric-pmf'
import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  AQLS,
  type Aql,
  chanceToFind,
  chanceToPass,
  codeLetter,
  goodAmongUntested,
  goodWith,
  leastToTest,
  limitingQuality,
  piecesToAskFor,
  planOf,
  planVerdict,
  samplingFor,
} from '#stock/shelf/sampling.rules'
import letters from './sampling-code-letters.json'
import points from './sampling-oc-points.json'
import zero from './sampling-zero-acceptance.json'

interface Cell {
  code: string
  aql: string
  plan_letter: string
  n: string
  Ac: string
  Re: string
}
const cells = parse(readFileSync(join(import.meta.dirname, 'sampling-single-normal.csv')), { columns: true }) as Cell[]

describe('the tables of MIL-STD-105E', () => {
  test.each(letters.rows)('table I: a batch of $lot_min to $lot_max', (row) => {
    for (const quantity of [row.lot_min, row.lot_max ?? 2_000_000]) {
      expect([codeLetter(quantity, 'I'), codeLetter(quantity, 'II'), codeLetter(quantity, 'III')]).toEqual([row.I, row.II, row.III])
    }
  })

  test('table II-A: every cell, arrows followed', () => {
    expect(cells).toHaveLength(16 * AQLS.length)
    for (const { code, aql, plan_letter: letter, n, Ac, Re } of cells) {
      expect([code, aql, planOf(code, aql as Aql)]).toEqual([code, aql, { letter, sample: Number(n), accept: Number(Ac) }])
      expect(Number(Re)).toBe(Number(Ac) + 1)
    }
  })

  test.each(points.rows)('letter $code at $aql: accepted as often as its operating characteristic says', (row) => {
    expect(planOf(row.code, row.aql as Aql)).toMatchObject({ sample: row.n, accept: row.Ac })
    // Of an endless batch: the published points are binomial.
    const quantity = 400_000
    for (const [share, percent] of [
      [0.95, row.p95_binomial_pct],
      [0.5, row.p50_binomial_pct],
    ] as const) {
      expect(chanceToPass(quantity, Math.round((quantity * percent) / 100), { sample: row.n, accept: row.Ac })).toBeCloseTo(share, 2)
    }
  })
})

describe('the hypergeometric sentence', () => {
  test('if 3 of these 10 were bad, testing 4 would find one with 83 %', () => {
    expect(chanceToFind(10, 3, 4)).toBeCloseTo(0.8333, 4)
  })

  test('the published chances', () => {
    for (const row of zero.rows) {
      if (row.hypergeom) {
        const { N, D, n, c } = row.hypergeom
        expect(chanceToPass(N, D, { sample: n, accept: c })).toBeCloseTo(row.pa ?? 0, 10)
        expect(hypergeometricCdf(c, N, D, n)).toBeCloseTo(row.pa ?? 0, 10)
      }
      if (row.c0_finite_lot) expect(leastToTest(row.c0_finite_lot.N, row.c0_finite_lot.D, 1 - row.c0_finite_lot.beta)).toBe(row.n)
    }
  })

  test('any chance is that of an independent library', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.nat(400), fc.nat(400), fc.nat(20), (quantity, some, more, accept) => {
        const [bad, sample] = [some % (quantity + 1), more % (quantity + 1)]
        expect(chanceToPass(quantity, bad, { sample, accept })).toBeCloseTo(hypergeometricCdf(accept, quantity, bad, sample), 9)
        expect(chanceToFind(quantity, bad, sample)).toBeCloseTo(1 - hypergeometricPmf(0, quantity, bad, sample), 9)
      }),
      { numRuns: 400 },
    )
  })
})

describe('what is believed of those not tested', () => {
  test('Laplace: after ten good ones the next is good with eleven in twelve', () => {
    expect(goodAmongUntested({ tested: 10, bad: 0 }, 1)[1]).toBeCloseTo(11 / 12, 12)
  })

  test('its sums are tails of the hypergeometric distribution of an independent library', () => {
    // With a uniform prior the beta-binomial is a negative hypergeometric distribution.
    fc.assert(
      fc.property(fc.nat(40), fc.nat(40), fc.nat(60), (tested, some, untested) => {
        const bad = some % (tested + 1)
        const chances = goodAmongUntested({ tested, bad }, untested)
        expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9)
        const good = tested - bad
        let below = 0
        for (const [count, chance] of chances.entries()) {
          below += chance
          const tail = 1 - hypergeometricCdf(good, untested + tested + 1, tested + 1, count + good + 1)
          expect(below).toBeCloseTo(tail, 9)
        }
      }),
      { numRuns: 200 },
    )
  })

  test('nothing tested: nothing can be counted on with certainty, and with 90 % only a tenth less', () => {
    expect(goodWith({ tested: 0, bad: 0 }, 10, 0.9)).toBe(1)
    expect(goodWith({ tested: 20, bad: 0 }, 10, 0.9)).toBe(9)
  })

  test('the pieces to ask for are the least that are enough', () => {
    const facts = { needed: 20, quantity: 15, tested: 5, bad: 1, confidence: 0.9 }
    const more = piecesToAskFor(facts) ?? 0
    expect(more).toBeGreaterThan(5)
    expect(goodWith({ tested: 5, bad: 1 }, 10 + more, 0.9)).toBeGreaterThanOrEqual(16)
    expect(goodWith({ tested: 5, bad: 1 }, 10 + more - 1, 0.9)).toBeLessThan(16)
    expect(piecesToAskFor({ ...facts, needed: 3 })).toBe(0)
  })
})

describe('the limiting quality of a plan for one batch alone', () => {
  // The points at which a plan accepts one time in ten: MIL-STD-105E, tables X, as computed in sampling-oc-points.json.
  const rows = points.rows.filter(({ n }) => n !== undefined && n <= 200)
  test.each(rows)('$n / $Ac', ({ n = 0, Ac = 0, p10_binomial_pct = 0 }) => {
    // Of a batch that is large beside its sample the published share holds to a twentieth of a per cent.
    const quantity = 40_000
    expect((100 * limitingQuality(quantity, { sample: n, accept: Ac })) / quantity).toBeCloseTo(p10_binomial_pct, 0)
  })
  test('50/3 of 500 lets 10 in 100 through 24 times in 100', () =>
    expect(Math.round(100 * chanceToPass(500, 50, { sample: 50, accept: 3 }))).toBe(24))
})

describe('ISO 2859-2, procedure A (plans from memory): the limiting quality that a plan for one batch alone stands for', () => {
  // Lots of 3,201 to 10,000 where the sample is that large: of such a quality the standard lets about one batch in ten through, 13 in 100 at most.
  const plans = [
    { quality: 20, sample: 20, accept: 1 },
    { quality: 12.5, sample: 32, accept: 1 },
    { quality: 8, sample: 50, accept: 1 },
    { quality: 5, sample: 80, accept: 1 },
    { quality: 3.15, sample: 125, accept: 1 },
    { quality: 2, sample: 200, accept: 1 },
  ]
  const quantity = 4000
  test.each(plans)('$sample/$accept for $quality %', ({ quality, sample, accept }) => {
    const passes = (percent: number) => chanceToPass(quantity, Math.round((quantity * percent) / 100), { sample, accept })
    expect(passes(quality)).toBeLessThanOrEqual(0.13)
    // The next better quality of the series is let through far more often: the plan does not stand for that one.
    expect(passes(quality / 1.6)).toBeGreaterThan(0.2)
    // And so does our limiting quality, to within a step of the series.
    const ours = (100 * limitingQuality(quantity, { sample, accept })) / quantity
    expect(ours).toBeLessThanOrEqual(quality * 1.05)
    expect(ours).toBeGreaterThan(quality / 1.6)
  })
})

describe('which plan a batch gets', () => {
  test('programmed parts are all tested', () =>
    expect(samplingFor({ quantity: 500, programmed: true, level: 'II', aql: '1.0' })).toEqual({ how: 'all', why: 'programmed' }))
  test('a batch no larger than its sample is all tested', () =>
    expect(samplingFor({ quantity: 13, programmed: false, level: 'II', aql: '1.0' })).toEqual({ how: 'all', why: 'small' }))
  test('one more than that is sampled', () =>
    expect(samplingFor({ quantity: 14, programmed: false, level: 'II', aql: '1.0' })).toEqual({
      how: 'some',
      letter: 'E',
      sample: 13,
      accept: 0,
    }))
  test('one bad too many decides at once; a full sample without does too', () => {
    expect(planVerdict({ sample: 13, accept: 0 }, { tested: 2, bad: 1 })).toBe('rejected')
    expect(planVerdict({ sample: 13, accept: 0 }, { tested: 12, bad: 0 })).toBe('going on')
    expect(planVerdict({ sample: 13, accept: 0 }, { tested: 13, bad: 0 })).toBe('accepted')
  })
})
