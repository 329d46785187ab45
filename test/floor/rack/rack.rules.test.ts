import { describe, expect, it } from 'vitest'
import { type Promised, sayLack, takePromised } from '#floor/rack/rack.rules'

const unit = { unitId: 'wren-02', designId: 'tidemill' }
const promise = (quantity: number, change: Partial<Promised> = {}): Promised => ({
  donorName: 'Ines Abreu',
  quantity,
  isOnItsWay: false,
  onlyForUnitId: null,
  onlyForDesignId: null,
  ...change,
})

describe('a unit that waits for parts says', () => {
  it.each([
    ['what it waits for, when nobody promised any', [], '6 × Display'],
    ['who promised them', [promise(6)], '6 × Display (promised by Ines Abreu)'],
    ['that they are on their way', [promise(6, { isOnItsWay: true })], '6 × Display (on their way from Ines Abreu)'],
    ['how many of them, when not all are', [promise(2)], '6 × Display (2 promised by Ines Abreu)'],
    [
      'everybody who did',
      [promise(1, { isOnItsWay: true }), promise(5, { donorName: 'Oda Fjell' })],
      '6 × Display (1 on its way from Ines Abreu, 5 promised by Oda Fjell)',
    ],
  ])('%s', (_what, promised, words) => {
    expect(sayLack(6, 'Display', promised)).toBe(words)
  })
})

describe('a promise', () => {
  it('is told to one unit only: what one takes is not left for the next', () => {
    const first = takePromised([promise(8)], unit, 6)
    expect(first).toEqual({ taken: [promise(6)], rest: [promise(2)] })
    expect(takePromised(first.rest, { ...unit, unitId: 'wren-03' }, 6)).toEqual({ taken: [promise(2)], rest: [] })
  })

  it('that is on its way is counted on before one that is not', () => {
    const coming = promise(6, { isOnItsWay: true })
    expect(takePromised([promise(6), coming], unit, 6)).toEqual({ taken: [coming], rest: [promise(6)] })
  })

  it('that was made for another unit is left alone', () => {
    const forOther = promise(6, { onlyForUnitId: 'tern-04' })
    expect(takePromised([forOther], unit, 6)).toEqual({ taken: [], rest: [forOther] })
  })
})
