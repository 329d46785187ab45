import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { UnitNeeds } from '#bench/buildable/build.contract'
import { whatCanBeBuilt, whatIsShort, whatWasUnblocked } from '#bench/buildable/buildable.rules'
import type { Stock } from '#stock/shelf/shelf.contract'

const unit = (tag: string, needs: Record<string, number>, designId = 'tidemill'): UnitNeeds => ({
  unitId: tag.toLowerCase(),
  tag,
  designId,
  designName: designId,
  importance: 2,
  lines: Object.entries(needs).map(([partId, quantity]) => ({ lineId: `${designId} ${partId}`, partId, accepts: [], quantity })),
})
const stock = (partId: string, quantity: number, more: Partial<Stock> = {}): Stock => ({
  partId,
  quantity,
  onlyForUnitId: null,
  onlyForDesignId: null,
  ...more,
})

describe('what can be built now', () => {
  test('a unit whose parts are all in hand', () => {
    expect(whatCanBeBuilt([unit('WREN-01', { display: 6, chip: 1 })], [stock('display', 6), stock('chip', 1)])).toMatchObject([
      { tag: 'WREN-01', buildable: true, lacks: [] },
    ])
  })

  test('one piece short is not enough, and the shortfall says so', () => {
    expect(whatCanBeBuilt([unit('WREN-01', { display: 6 })], [stock('display', 5)])).toMatchObject([
      { buildable: false, lacks: [{ partId: 'display', quantity: 1 }] },
    ])
  })

  test('a piece is kept for one unit only', () => {
    const outlook = whatCanBeBuilt([unit('WREN-01', { display: 6 }), unit('WREN-02', { display: 6 })], [stock('display', 8)])
    expect(outlook.map((each) => each.buildable)).toEqual([true, false])
    expect(outlook[1]?.lacks).toEqual([{ partId: 'display', quantity: 4 }])
  })

  test('a unit that cannot be completed does not hold parts back from one that can', () => {
    const units = [unit('WREN-01', { display: 6, chip: 1 }), unit('WREN-02', { display: 6 })]
    expect(whatCanBeBuilt(units, [stock('display', 6)]).map((each) => each.buildable)).toEqual([false, true])
  })

  test('a gift for one unit is not used for another', () => {
    const only = stock('display', 6, { onlyForUnitId: 'wren-02' })
    const units = [unit('WREN-01', { display: 6 }), unit('WREN-02', { display: 6 })]
    expect(whatCanBeBuilt(units, [only]).map((each) => each.buildable)).toEqual([false, true])
  })

  test('a unit takes what is restricted to it before what is free', () => {
    const pieces = [stock('display', 6), stock('display', 6, { onlyForUnitId: 'wren-01' })]
    const units = [unit('WREN-01', { display: 6 }), unit('WREN-02', { display: 6 })]
    expect(whatCanBeBuilt(units, pieces).map((each) => each.buildable)).toEqual([true, true])
  })

  test('no more is kept for units than there is', () => {
    const counts = fc.record({ a: fc.nat(4), b: fc.nat(4) })
    fc.assert(
      fc.property(fc.array(counts, { maxLength: 5 }), counts, (needs, have) => {
        const units = needs.map((each, index) => unit(`U-${index}`, each))
        const outlook = whatCanBeBuilt(units, [stock('a', have.a), stock('b', have.b)])
        for (const partId of ['a', 'b'] as const) {
          const wanted = needs.reduce((sum, each) => sum + each[partId], 0)
          const lacking = outlook.flatMap((each) => each.lacks).filter((lack) => lack.partId === partId)
          const lacked = lacking.reduce((sum, lack) => sum + lack.quantity, 0)
          expect(wanted - lacked).toBeLessThanOrEqual(have[partId])
          expect(lacked).toBe(Math.max(0, wanted - have[partId]))
        }
        expect(outlook.every((each) => each.buildable === (each.lacks.length === 0))).toBe(true)
      }),
    )
  })
})

describe('what is short', () => {
  const units = [
    unit('WREN-01', { display: 6 }),
    unit('WREN-02', { display: 6, chip: 1 }),
    unit('WREN-03', { display: 6 }),
    unit('PIPIT-01', { logic: 1 }),
  ]

  test('the part that most units wait for comes first, and says which', () => {
    expect(whatIsShort(whatCanBeBuilt(units, []))).toEqual([
      { partId: 'display', short: 18, waiting: ['WREN-01', 'WREN-02', 'WREN-03'] },
      { partId: 'chip', short: 1, waiting: ['WREN-02'] },
      { partId: 'logic', short: 1, waiting: ['PIPIT-01'] },
    ])
  })

  test('a part that is enough is not listed', () => {
    expect(whatIsShort(whatCanBeBuilt([unit('WREN-01', { display: 6 })], [stock('display', 6)]))).toEqual([])
  })

  test('a substitute in hand is not short, and is not used for a line that does not accept it', () => {
    const [wren] = [unit('WREN-01', { display: 2 })]
    const accepting = { ...wren, lines: [{ lineId: 'd', partId: 'display', accepts: ['red display'], quantity: 2 }] } as UnitNeeds
    const shelf = [stock('display', 1), stock('red display', 1)]
    expect(whatCanBeBuilt([accepting], shelf)).toMatchObject([{ buildable: true, lacks: [] }])
    expect(whatCanBeBuilt([unit('WREN-01', { display: 2 })], shelf)).toMatchObject([{ buildable: false, lacks: [{ quantity: 1 }] }])
  })
})

describe('what a parcel unblocked', () => {
  const units = [unit('WREN-05', { display: 6 }), unit('WREN-06', { display: 6 })]
  test('the units that could not be completed without it', () => {
    expect(whatWasUnblocked(units, [stock('display', 6), stock('display', 6)], [stock('display', 6)])).toEqual(['WREN-06'])
  })
  test('nothing, where there was enough already or is not enough still', () => {
    expect(whatWasUnblocked(units, [stock('display', 20)], [stock('display', 6)])).toEqual([])
    expect(whatWasUnblocked(units, [stock('display', 5)], [stock('display', 5)])).toEqual([])
  })
  test('a unit that it was restricted to', () => {
    const only = { onlyForUnitId: 'wren-06' }
    expect(whatWasUnblocked(units, [stock('display', 6, only), stock('display', 2)], [stock('display', 6, only)])).toEqual(['WREN-06'])
  })
})
