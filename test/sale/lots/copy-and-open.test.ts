import { afterEach, beforeEach, expect, test } from 'vitest'
import { lotForm, makePreparedLot, makeTestedUnit } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let maker: Awaited<ReturnType<Stage['as']>>
beforeEach(async () => {
  stage = openStage()
  await makePreparedLot(stage, { tag: 'TERN-03' })
  maker = await stage.as('maker')
})
afterEach(() => stage.close())

test('a lot begins with what another one says, but for what shows one machine only', async () => {
  await maker.lots.save(lotForm(1, { extras: 'A strap\nA card', reserveKind: 'amount', reserve: '120.50', likely: '180' }))
  await makeTestedUnit(stage, { tag: 'TERN-04' })
  const { number } = await maker.lots.copy({ unit: 'TERN-04', from: 1 })
  const [was, is] = [await maker.lots.prepared({ lot: 1 }), await maker.lots.prepared({ lot: number })]
  expect(is.card.unit).toBe('TERN-04')
  expect([is.row, is.extras]).toEqual([was.row, was.extras])
  expect(is.row.reserveMinor).toBe(12_050)
  expect(is.postage.map(({ zone, countries, amountMinor }) => [zone, countries, amountMinor])).toEqual(
    was.postage.map(({ zone, countries, amountMinor }) => [zone, countries, amountMinor]),
  )
  expect(was.photographs.length).toBeGreaterThan(0)
  expect(is.photographs).toEqual([])
  await expect(maker.lots.copy({ unit: 'TERN-04', from: 1 })).rejects.toThrow('TERN-04 is lot 2 already')
  await expect(maker.lots.copy({ unit: 'TERN-05', from: 99 })).rejects.toThrow('There is no lot 99')
})

test('the gate of each lot says what it lacks, and all that lack nothing open together or not at all', async () => {
  await makeTestedUnit(stage, { tag: 'TERN-04' })
  const { number } = await maker.lots.copy({ unit: 'TERN-04', from: 1 })
  const lacks = async () => Object.fromEntries((await maker.lots.gates()).map(({ lot, missing }) => [lot, missing.map(({ what }) => what)]))
  expect((await lacks())[number]).toEqual(expect.arrayContaining(['photograph', 'closing']))
  expect((await lacks())[1]).toEqual([])
  await expect(maker.bidding.openAll({ lots: [1, number] })).rejects.toThrow(`Lot ${number}: This lot cannot open yet`)
  expect((await maker.lots.all()).map(({ state }) => state)).toEqual(['draft', 'draft'])
  expect(await maker.bidding.openAll({ lots: [1] })).toEqual({ opened: 1 })
  expect(Object.keys(await lacks())).toEqual([String(number)])
})
