import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Check } from '#bench/designs/design.contract'
import { functionFirst, usualTelling } from '#bench/designs/telling.rules'
import { makeBench } from '#test/make/bench'
import { openStage, type Stage } from '#test/stage'

const check = (key: string, seq: number, exercises: string[], more: Partial<Check> = {}) =>
  ({ key, seq, exercises, kind: 'measure', lower: 1, upper: null, ...more }) as Check
const DESIGN = {
  blocks: ['supply', 'clock', 'output'],
  feeds: [
    { from: 'supply', to: 'clock', kind: 'power' as const },
    { from: 'clock', to: 'output', kind: 'signal' as const },
  ],
  checks: [
    check('C1', 1, ['supply']),
    check('C2', 2, ['supply']),
    check('C3', 3, ['clock']),
    check('C4', 4, ['output']),
    check('C5', 5, ['output'], { kind: 'yesno' }),
    check('C6', 6, ['clock', 'output']),
    check('C7', 7, ['output'], { lower: null }),
  ],
}

describe('the readings that tell most', () => {
  it('are one from each block where none were chosen, function before supply, and each ends in a figure', () => {
    expect(usualTelling(DESIGN)).toEqual(['C6', 'C3', 'C2'])
    expect(functionFirst(DESIGN).map(({ key }) => key)).toEqual(['C6', 'C4', 'C3', 'C2', 'C1'])
  })
  it('are none of a design without figures, and a block that nothing measures is passed over', () => {
    expect(usualTelling({ ...DESIGN, checks: [] })).toEqual([])
    expect(usualTelling({ ...DESIGN, blocks: ['case', ...DESIGN.blocks] })).toEqual(['C6', 'C3', 'C2'])
  })
})

describe('the maker of a design', () => {
  let stage: Stage
  beforeEach(() => {
    stage = openStage()
  })
  afterEach(() => stage.close())

  it('chooses others, for every revision of it, and goes back to the usual by choosing none', async () => {
    const { designId } = await makeBench(stage)
    const maker = await stage.as('maker')
    const usual = await maker.designs.telling({ id: designId })
    expect(usual.isUsual).toBe(true)
    expect(usual.chosen.length).toBeGreaterThan(2)
    const [last, first] = [usual.choices.at(-1)?.key ?? '', usual.choices[0]?.key ?? '']
    await maker.designs.chooseTelling({ designId, checks: [last, first] })
    expect(await maker.designs.telling({ id: designId })).toMatchObject({ isUsual: false, chosen: [first, last] })
    await maker.designs.chooseTelling({ designId, checks: [] })
    expect((await maker.designs.telling({ id: designId })).chosen).toEqual(usual.chosen)
  })

  it('is refused more than are read at a glance, and a check that the design has not', async () => {
    const { designId } = await makeBench(stage)
    const maker = await stage.as('maker')
    const { choices } = await maker.designs.telling({ id: designId })
    const checks = choices.slice(0, 9).map(({ key }) => key)
    await expect(maker.designs.chooseTelling({ designId, checks })).rejects.toThrow('Choose 8 at most')
    await expect(maker.designs.chooseTelling({ designId, checks: ['Z99'] })).rejects.toThrow('Z99 is no check of this design')
  })
})
