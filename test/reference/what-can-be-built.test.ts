import fc from 'fast-check'
import { beforeAll, expect, test } from 'vitest'
import type { Importance, UnitNeeds } from '#bench/buildable/build.contract'
import { makeModel } from '#bench/buildable/build-model.rules'
import { planBuild } from '#bench/buildable/build-plan.rules'
import { openSolver } from '#bench/buildable/build-solver'
import { mostUnits, type Solve } from '#bench/buildable/most-units.rules'
import type { Stock } from '#stock/shelf/shelf.contract'

// The solver against an exhaustive search that shares nothing with it: every choice of units, each tried by the
// condition of Hall (1935) over every set of shelves.

let solve: Solve
beforeAll(async () => {
  solve = await openSolver()
})

const PARTS = ['crystal', 'chip', 'display', 'relay']
const DESIGNS = ['tidemill', 'saltmarsh']

const restriction = fc.oneof(
  { weight: 5, arbitrary: fc.constant({ onlyForUnitId: null, onlyForDesignId: null }) },
  { weight: 1, arbitrary: fc.nat(4).map((unit) => ({ onlyForUnitId: `u${unit}`, onlyForDesignId: null })) },
  { weight: 1, arbitrary: fc.constantFrom(...DESIGNS).map((design) => ({ onlyForUnitId: null, onlyForDesignId: design })) },
)
const stocks: fc.Arbitrary<Stock[]> = fc.array(
  fc.tuple(fc.constantFrom(...PARTS), fc.nat(5), restriction).map(([partId, quantity, only]) => ({ partId, quantity, ...only })),
  { maxLength: 6 },
)
const line = fc.record({
  lineId: fc.constant('line'),
  partId: fc.constantFrom(...PARTS),
  accepts: fc.oneof({ weight: 3, arbitrary: fc.constant([]) }, { weight: 2, arbitrary: fc.subarray(PARTS, { maxLength: 2 }) }),
  quantity: fc.integer({ min: 1, max: 3 }),
})
const unit = fc.record({
  designId: fc.constantFrom(...DESIGNS),
  importance: fc.constantFrom<Importance[]>(1, 2, 3) as fc.Arbitrary<Importance>,
  lines: fc.array(line, { minLength: 1, maxLength: 3 }),
})
const units: fc.Arbitrary<UnitNeeds[]> = fc
  .array(unit, { minLength: 1, maxLength: 5 })
  .map((rows) => rows.map((row, index) => ({ ...row, unitId: `u${index}`, tag: `U-${index}`, designName: row.designId })))

/** Most units, then most of the first class, then of the second: by trying every choice. */
function bestByTrying(wanted: readonly UnitNeeds[], stock: readonly Stock[]): [number, number, number] {
  const suits = (row: Stock, one: UnitNeeds, need: UnitNeeds['lines'][number]) =>
    (row.partId === need.partId || need.accepts.includes(row.partId)) &&
    (row.onlyForUnitId === null || row.onlyForUnitId === one.unitId) &&
    (row.onlyForDesignId === null || row.onlyForDesignId === one.designId)
  const sets = 1 << stock.length
  const has = Array.from({ length: sets }, (_, set) =>
    stock.reduce((sum, row, index) => (set & (1 << index) ? sum + row.quantity : sum), 0),
  )
  // What each unit must take from within a set of shelves: its lines that can be met from nowhere else.
  const needs = wanted.map((one) =>
    Array.from({ length: sets }, (_, set) =>
      one.lines.reduce((sum, need) => {
        const from = stock.reduce((bits, row, index) => (suits(row, one, need) ? bits | (1 << index) : bits), 0)
        return (from & ~set) === 0 ? sum + need.quantity : sum
      }, 0),
    ),
  )
  let best: [number, number, number] = [0, 0, 0]
  for (let choice = 0; choice < 1 << wanted.length; choice++) {
    const chosen = wanted.map((_, index) => index).filter((index) => choice & (1 << index))
    const isPossible = has.every((sum, set) => chosen.reduce((want, index) => want + (needs[index]?.[set] ?? 0), 0) <= sum)
    if (!isPossible) continue
    const of = (importance: number) => chosen.filter((index) => wanted[index]?.importance === importance).length
    const row: [number, number, number] = [chosen.length, of(1), of(2)]
    const isBetter = row[0] !== best[0] ? row[0] > best[0] : row[1] !== best[1] ? row[1] > best[1] : row[2] > best[2]
    if (isBetter) best = row
  }
  return best
}

test('in two thousand small cases the solver finds what trying every choice finds', () => {
  fc.assert(
    fc.property(units, stocks, (wanted, stock) => {
      const chosen = [...mostUnits(makeModel(wanted, stock), solve)]
      const of = (importance: number) => chosen.filter((index) => wanted[index]?.importance === importance).length
      expect([chosen.length, of(1), of(2)]).toEqual(bestByTrying(wanted, stock))
    }),
    { numRuns: 2000 },
  )
})

test('what would unblock most gains what trying every choice with enough of that part gains', () => {
  fc.assert(
    fc.property(units, stocks, (wanted, stock) => {
      const { unblockers } = planBuild({ units: wanted, stock, coming: [], lastUsefulDay: null }, solve)
      const [now] = bestByTrying(wanted, stock)
      for (const { partId, gain } of unblockers) {
        const enough = { partId, quantity: 100, onlyForUnitId: null, onlyForDesignId: null }
        expect(gain).toBe(bestByTrying(wanted, [...stock, enough])[0] - now)
      }
    }),
    { numRuns: 200 },
  )
})

test('the picture accounts for every piece: nothing is kept twice, and what can be built lacks nothing', () => {
  fc.assert(
    fc.property(units, stocks, stocks, fc.boolean(), (wanted, stock, more, isOnItsWay) => {
      const coming = more.map((row, index) => ({ ...row, giftId: `g${index}`, parcel: 'ines', isOnItsWay, expectedOn: null }))
      const { units: plans } = planBuild({ units: wanted, stock, coming, lastUsefulDay: null }, solve)
      const lines = plans.flatMap((plan) => plan.lines)
      const sum = (of: (row: (typeof lines)[number]) => number) => lines.reduce((total, row) => total + of(row), 0)
      expect(sum((row) => row.there)).toBeLessThanOrEqual(stock.reduce((total, row) => total + row.quantity, 0))
      expect(sum((row) => row.onItsWay + row.promised)).toBeLessThanOrEqual(more.reduce((total, row) => total + row.quantity, 0))
      for (const [index, plan] of plans.entries()) {
        for (const [at, row] of plan.lines.entries()) {
          expect(row.there + row.onItsWay + row.promised + row.missing).toBe(wanted[index]?.lines[at]?.quantity)
          if (plan.buildable) expect(row.there).toBe(wanted[index]?.lines[at]?.quantity)
        }
      }
    }),
    { numRuns: 300 },
  )
})
