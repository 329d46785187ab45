import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { layBoard, placeOfPoint, sayBoard } from '#app/_ui/board-picture.rules.ts'
import { type Placed, readPlacement } from '#bench/designs/placement.rules'
import { makeBench } from '#test/make/bench'
import { openStage, type Stage } from '#test/stage'

const rowsOf = (text: string, choice = {}) => {
  const { rows, flaws, unit } = readPlacement(text, choice)
  expect(flaws).toEqual([])
  return { rows, unit }
}

describe('a placement file, as fabrication houses take it', () => {
  test('millimetres by the heading, columns in another order, sides by their layers', () => {
    const { rows, unit } = rowsOf('Side,Ref,PosX (mm),PosY (mm),Rot,Val\ntop,R1,10.5,-20.25,90,10k\nbottom,C2,"1,5",3,-90,100n\n')
    expect(unit).toMatchObject({ is: 'mm', asks: false })
    expect(rows).toEqual([
      { designator: 'R1', xUm: 10_500, yUm: -20_250, side: 'top', rotation: 90 },
      { designator: 'C2', xUm: 1500, yUm: 3000, side: 'bottom', rotation: 270 },
    ])
  })

  test('a unit behind each figure is taken as it stands', () => {
    const { rows } = rowsOf('Designator\tMid X\tMid Y\tLayer\tRotation\nU1\t1000mil\t25.4mm\tT\t0\nU2\t1in\t500 mil\tB\t45°\n')
    expect(rows).toMatchObject([
      { designator: 'U1', xUm: 25_400, yUm: 25_400, side: 'top' },
      { designator: 'U2', xUm: 25_400, yUm: 12_700, side: 'bottom', rotation: 45 },
    ])
  })

  test('where nothing says the unit it is guessed by the size, and asked', () => {
    const plain = (far: number) => `ref,x,y\nR1,0,0\nR2,${far},10\n`
    expect(rowsOf(plain(80)).unit).toMatchObject({ is: 'mm', asks: true })
    expect(rowsOf(plain(3150)).unit).toMatchObject({ is: 'mil', asks: true })
    const chosen = rowsOf(plain(40), { unit: 'inch' })
    expect(chosen.unit).toMatchObject({ is: 'inch', asks: false })
    expect(chosen.rows[1]).toMatchObject({ xUm: 1_016_000 })
  })

  test.each([
    ['ref,x,y\nR1,far,2\nR2,1,1', 2, /“far” is not a place/],
    ['ref,x,y,side\nR1,1,2,inside', 2, /“inside” is no side/],
    ['ref,x,y\nR1,1,2\nr1,3,4', 3, /R1 stands in two rows/],
    ['ref,x,y\nR1,1,999999', 2, /more than 2 m away/],
    ['ref,x\nR1,1', 1, /There is no column "y"/],
  ])('%j is told at its line', (text, line, words) => {
    expect(readPlacement(text).flaws).toContainEqual(expect.objectContaining({ line, words: expect.stringMatching(words) }))
  })
})

describe('the board that is drawn from it', () => {
  const at = (designator: string, x: number, y: number, side: Placed['side'] = 'top'): Placed => ({
    designator,
    xUm: x,
    yUm: y,
    side,
    rotation: 0,
  })
  const placed = [at('R1', 0, 0), at('U2', 100_000, 0), at('TP3', 0, 50_000), at('C9', 0, 0, 'bottom')]

  test('y goes up, the bottom is turned over, and what is looked for is marked and named', () => {
    const [top, bottom] = layBoard(placed, { suspects: ['R1', 'C9'], points: ['TP3', 'U2 pin 8'], next: 'U2 pin 8' })
    const mark = (name: string) => top?.marks.find(({ designator }) => designator === name)
    expect([mark('R1')?.tone, mark('TP3')?.tone, mark('U2')?.tone]).toEqual(['suspect', 'point', 'next'])
    expect([mark('R1')?.x, mark('R1')?.y, mark('TP3')?.y, mark('U2')?.x]).toEqual([8, 58, 8, 108])
    expect(bottom?.marks).toMatchObject([{ designator: 'C9', x: 108 }])
    if (top) expect(sayBoard(top)).toBe('The top of the board, 3 parts. R1 lower left; TP3 upper left; U2 (probe next) lower right.')
    expect(top?.marks.at(-1)?.designator).toBe('U2')
    // A side without anything that is looked for is left out.
    expect(layBoard(placed, { suspects: ['R1'], points: [], next: null }).map(({ side }) => side)).toEqual(['top'])
    expect(layBoard(placed, { suspects: [], points: ['TP3'], next: null }).map(({ side }) => side)).toEqual(['top', 'bottom'])
  })

  test('a point that names no part of the file is at no place', () => {
    expect([placeOfPoint('u2 pin 1', placed), placeOfPoint('behind', placed)]).toEqual(['U2', null])
    expect(layBoard([], { suspects: [], points: [], next: null })).toEqual([])
  })
})

describe('where parts sit is kept for a design', () => {
  let stage: Stage
  beforeAll(() => {
    stage = openStage()
  })
  afterAll(() => stage.close())

  test('what was guessed is asked, what does not fit the list is told, and the page of a fault has the board', async () => {
    const { tags } = await makeBench(stage)
    const maker = await stage.as('maker')
    const [tag = ''] = tags
    const designId = (await maker.bringup.unit({ tag })).design.id
    const { positions } = await maker.designs.get({ id: designId })
    const text = ['ref,x,y', ...positions.slice(1).map(({ designator }, index) => `${designator},${index},${index}`), 'FID1,0,0'].join('\n')
    const sheet = { name: 'pasted', text }
    const seen = await maker.designs.previewPlacement({ designId, sheet })
    expect(seen).toMatchObject({ missing: [positions[0]?.designator], beside: ['FID1'], unit: { asks: true } })
    await expect(maker.designs.savePlacement({ designId, sheet })).rejects.toThrow('Say that what was guessed is so')
    expect(await maker.designs.placement({ id: designId })).toEqual([])
    await expect(
      maker.designs.savePlacement({ designId, sheet: { name: '', text: 'ref,x,y\nR1,?,1' }, confirmGuesses: true }),
    ).rejects.toThrow('Line 2')
    await maker.designs.savePlacement({ designId, sheet, confirmGuesses: true })
    expect(await maker.designs.placement({ id: designId })).toHaveLength(positions.length)
    expect((await maker.faults.search({ tag })).board).toHaveLength(positions.length)
    // Read anew, it takes the place of what was there.
    await maker.designs.savePlacement({ designId, sheet: { name: '', text: 'ref,x (mm),y (mm)\nR1,1,1' } })
    expect(await maker.designs.placement({ id: designId })).toMatchObject([{ designator: 'R1', xUm: 1000 }])
  })
})
