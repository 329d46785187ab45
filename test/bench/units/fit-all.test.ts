import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { onlyBatches } from '#app/(bench)/bench/units/[tag]/only-batches.rules.ts'
import { pickList } from '#bench/units/pick.rules'
import { openStage, type Stage } from '#test/stage'

const source = (code: string, inHand: number, place = '') => ({ batchId: code, code, inHand, place, words: '' })
const need = (part: string, designators: string[], ...sources: ReturnType<typeof source>[]) => ({
  partId: part,
  part,
  designators,
  sources,
})

describe('a pick list', () => {
  test('goes from place to place, within one in the order of the board, and what has no place comes last', () => {
    const { places } = pickList([
      need('C', ['C10', 'C2'], source('B-1', 9, 'drawer 10')),
      need('R', ['R1'], source('B-2', 9, 'drawer 9')),
      need('D', ['D1'], source('B-3', 9)),
      need('A', ['A1'], source('B-4', 9, 'drawer 10')),
    ])
    expect(places.map(({ place, rows }) => [place, rows.map(({ designators }) => designators.join(' '))])).toEqual([
      ['drawer 9', ['R1']],
      ['drawer 10', ['A1', 'C2 C10']],
      ['', ['D1']],
    ])
  })
  test('takes from one bag where one has enough, and from several where none has', () => {
    const two = [source('B-1', 2), source('B-2', 4)]
    expect(pickList([need('R', ['R1', 'R2', 'R3'], ...two)]).places[0]?.rows.map(({ code }) => code)).toEqual(['B-2'])
    const { places, lacking } = pickList([need('R', ['R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'R7'], ...two)])
    expect(places[0]?.rows.map(({ code, designators }) => [code, designators.length])).toEqual([
      ['B-1', 2],
      ['B-2', 4],
    ])
    expect(lacking).toEqual([{ part: 'R', designators: ['R7'] }])
  })
  test('promises no piece twice: a substitute that two lines share is counted once', () => {
    const shared = source('B-1', 3)
    const { lacking } = pickList([need('R', ['R1', 'R2'], shared), need('S', ['R3', 'R4'], shared)])
    expect(lacking).toEqual([{ part: 'S', designators: ['R4'] }])
  })
})

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const LISTS = {
  checklist: { text: 'stage,check,unit,limits\nrails,Rail,V,4.8 to 5.2' },
  partsList: { text: 'designators,value,package,after\nR1-R4,4k7,axial,\nC1,100n,radial,\nC2,1u,radial,\nD1,,axial,R1' },
  feeds: { text: '' },
}

async function bench() {
  const maker = await stage.as('maker')
  const { designId } = await maker.designs.import({ key: 'wren', name: 'Wren', revision: 'A', decisionRule: 'simple', ...LISTS })
  await maker.bringup.makeRun({ designId, tagPrefix: 'WREN', count: 2 })
  const { lines } = await maker.designs.get({ id: designId })
  const buy = async (at: number, quantity: number, place = '') => {
    const row = await maker.shelf.buy({ partId: lines[at]?.partId ?? '', boughtFrom: 'Corner Electronics', quantity })
    if (place !== '') await maker.shelf.place({ batchId: row.id, place })
    return row
  }
  const choices = async () =>
    onlyBatches((await maker.bringup.unit({ tag: 'WREN-01' })).positions, await maker.bringup.choices({ tag: 'WREN-01' }))
  return { maker, buy, choices }
}

const onUnit = { key: 'fit-all-of-wren', tag: 'WREN-01', seen: 'WREN-01', iron: true }

describe('fitting from nothing', () => {
  test('all lines go in from their only batch in one go', async () => {
    const { maker, buy, choices } = await bench()
    await buy(0, 10, 'drawer 2')
    await buy(1, 3)
    const rows = (await choices()).map(({ designators, batchId }) => ({ designators, batchId }))
    expect(rows.map(({ designators }) => designators.join(' '))).toEqual(['R1 R2 R3 R4', 'C1'])
    expect(await maker.bringup.fitAll({ ...onUnit, rows })).toEqual({ positions: 5, batches: ['B-0001', 'B-0002'] })
    const { positions } = await maker.bringup.unit({ tag: 'WREN-01' })
    expect(positions.filter(({ holds }) => holds === null).map(({ designator }) => designator)).toEqual(['C2', 'D1'])
    // The same form again is the same fitting.
    expect(await maker.bringup.fitAll({ ...onUnit, rows })).toEqual({ positions: 5, batches: ['B-0001', 'B-0002'] })
  })

  test('a line that cannot go in keeps all out, and is named', async () => {
    const { maker, buy } = await bench()
    const resistors = await buy(0, 10)
    const rows = [
      { designators: ['R1'], batchId: resistors.id },
      { designators: ['C1'], batchId: resistors.id },
    ]
    await expect(maker.bringup.fitAll({ ...onUnit, rows })).rejects.toThrow('Line 2: C1 takes 100 nF capacitor, radial')
    await expect(maker.bringup.fitAll({ ...onUnit, rows: [{ designators: ['R1', 'r1'], batchId: resistors.id }] })).rejects.toThrow(
      'R1 is named twice',
    )
    await expect(maker.bringup.fitAll({ ...onUnit, seen: 'WREN-02', rows: rows.slice(0, 1) })).rejects.toThrow()
    expect((await maker.bringup.unit({ tag: 'WREN-01' })).positions.every(({ holds }) => holds === null)).toBe(true)
  })

  test('where two batches could do, or too few are there, somebody chooses', async () => {
    const { buy, choices } = await bench()
    await buy(0, 3)
    await buy(1, 3)
    await buy(1, 3)
    expect(await choices()).toEqual([])
  })

  test('the pick list names place, bag and positions, what is lacking and what waits', async () => {
    const { maker, buy } = await bench()
    await buy(0, 10, 'drawer 2')
    const list = await maker.bringup.pick({ tag: 'WREN-01' })
    expect(list.places).toMatchObject([
      { place: 'drawer 2', rows: [{ code: 'B-0001', designators: ['R1', 'R2', 'R3', 'R4'], isOnly: true }] },
    ])
    expect(list.lacking.map(({ designators }) => designators)).toEqual([['C1'], ['C2']])
    expect(list.later).toEqual([{ designator: 'D1', after: 'R1' }])
  })
})
