import fc from 'fast-check'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { costOf, type FittedCount, sumParts } from '#stock/shelf/price.rules'
import { replacementPrices } from '#stock/shelf/price.service'
import { makeCampaign } from '#test/make/campaign'
import { makeThreeBatches } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

test('three resistors at 1.20 for a hundred cost 4 pence, and 999 of them 11.99', () => {
  const price = { minor: 120, pieces: 100 }
  expect([costOf(3, price), costOf(999, price), costOf(0, price)]).toEqual([4, 1199, 0])
})

test('half a penny goes upwards, and nothing is lost on the largest amounts', () => {
  expect(costOf(1, { minor: 1, pieces: 2 })).toBe(1)
  expect(costOf(1_000_000, { minor: 100_000_000_000, pieces: 1_000_000 })).toBe(100_000_000_000)
})

const fitted = (partId: string, batchId: string, isGift: boolean, count: number): FittedCount => ({ partId, batchId, isGift, count })

test('given and bought stand apart, a batch’s own price goes first, and what has none is counted and left out', () => {
  const prices = {
    ofPart: new Map([['cap', { minor: 120, pieces: 10 }]]),
    ofBatch: new Map([['B-0002', { minor: 500, pieces: 1 }]]),
  }
  const sum = sumParts(
    [
      fitted('cap', 'B-0001', true, 3),
      fitted('cap', 'B-0002', false, 1),
      fitted('chip', 'B-0003', true, 2),
      fitted('cap', 'B-0004', true, 2),
    ],
    prices,
  )
  expect(sum).toMatchObject({ givenMinor: 60, boughtMinor: 500, unpriced: 2 })
  expect(sum.lines).toMatchObject([
    { partId: 'cap', isGift: true, count: 5, minor: 60 },
    { partId: 'cap', isGift: false, count: 1, minor: 500 },
    { partId: 'chip', count: 2, minor: null },
  ])
})

test('the lines as they are printed add up to the sums', () => {
  const rows = fc.array(
    fc.record({ part: fc.constantFrom('a', 'b', 'c', 'd'), isGift: fc.boolean(), count: fc.integer({ min: 1, max: 500 }) }),
    { maxLength: 20 },
  )
  const price = fc.record({ minor: fc.integer({ min: 0, max: 10_000 }), pieces: fc.integer({ min: 1, max: 1000 }) })
  fc.assert(
    fc.property(rows, price, price, (all, a, b) => {
      const counts = all.map(({ part, isGift, count }) => fitted(part, part, isGift, count))
      const sum = sumParts(counts, { ofBatch: new Map(), ofPart: new Map(Object.entries({ a, b })) })
      expect(sum.lines.reduce((total, { minor }) => total + (minor ?? 0), 0)).toBe(sum.givenMinor + sum.boughtMinor)
      expect(sum.lines.reduce((total, { count }) => total + count, 0)).toBe(all.reduce((total, { count }) => total + count, 0))
    }),
  )
})

let stage: Stage
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterEach(() => stage.close())

test('what was said last of a price holds, with who said it, and an empty amount takes it back', async () => {
  const { volunteer, cap } = await makeThreeBatches(stage)
  await volunteer.shelf.setPrice({ partId: cap.id, amount: '2.40', pieces: '100', source: 'a catalogue of this spring' })
  await volunteer.shelf.setPrice({ partId: cap.id, amount: '1,20', pieces: 100, source: '' })
  expect(replacementPrices(stage.sight()).ofPart.get(cap.id)).toMatchObject({ minor: 120, pieces: 100, by: 'volunteer' })
  await volunteer.shelf.setPrice({ partId: cap.id, amount: '', pieces: 1, source: '' })
  expect(replacementPrices(stage.sight()).ofPart.has(cap.id)).toBe(false)
})

test('an amount that is none is refused at its field, and nothing is kept', async () => {
  const { volunteer, cap } = await makeThreeBatches(stage)
  const price = { partId: cap.id, pieces: 1, source: '' }
  await expect(volunteer.shelf.setPrice({ ...price, amount: 'cheap' })).rejects.toThrow('is not an amount')
  await expect(volunteer.shelf.setPrice({ ...price, amount: '1.20', pieces: '0' })).rejects.toThrow('whole number')
  await expect(volunteer.shelf.setPrice({ ...price, partId: 'no-such-part', amount: '1.20' })).rejects.toThrow()
  expect(replacementPrices(stage.sight()).ofPart.size).toBe(0)
})
