import { afterEach, describe, expect, it } from 'vitest'
import { causeWords, chanceWords, fisher, rankCauses, type Shared } from '#bench/faults/common-cause.rules'
import { failuresOf, type RunReadingFacts, sharedFailures, sharedWords } from '#bench/faults/shared.rules'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

const reading = (tag: string, check: string, seq: number, over: Partial<RunReadingFacts> = {}): RunReadingFacts => ({
  tag,
  seq,
  check,
  verdict: 'fail',
  correction: null,
  ...over,
})

describe('the same check failing twice in a run', () => {
  it('is noticed on two units, not on one that failed twice', () => {
    expect(sharedFailures([reading('A-01', 'K1', 1), reading('A-01', 'K1', 2)])).toEqual([])
    const two = sharedFailures([reading('A-01', 'K1', 1), reading('A-01', 'K1', 2, { verdict: 'pass' }), reading('A-02', 'K1', 1)])
    expect(two).toEqual([{ check: 'K1', tags: ['A-01', 'A-02'] }])
    expect(two.map(sharedWords)).toEqual(['K1 has failed on A-01 and A-02'])
  })

  it('a mistyped failure that was corrected is none', () => {
    const put = [reading('A-01', 'K1', 1), reading('A-01', 'K1', 2, { verdict: 'pass', correction: 'misread' }), reading('A-02', 'K1', 1)]
    expect(failuresOf(put).get('K1')).toEqual(['A-02'])
  })
})

describe('what the failed ones have in common', () => {
  // Fisher 1935, The Design of Experiments, chapter II: eight cups, four with milk first; all four told right 1 in 70, three or more 17 in 70.
  it('the lady tasting tea', () => {
    expect(fisher({ all: 8, failed: 4, having: 4, both: 4 })).toBeCloseTo(1 / 70, 12)
    expect(fisher({ all: 8, failed: 4, having: 4, both: 3 })).toBeCloseTo(17 / 70, 12)
    expect(fisher({ all: 8, failed: 4, having: 4, both: 0 })).toBe(1)
  })

  it('is the share of all ways in which the failures could have fallen, counted one by one', () => {
    for (let all = 2; all <= 7; all++)
      for (let failed = 1; failed < all; failed++)
        for (let having = 1; having < all; having++)
          for (let both = 1; both <= Math.min(failed, having); both++) {
            const ways = Array.from({ length: 2 ** all }, (_, bits) => [...bits.toString(2).padStart(all, '0')].map(Number)).filter(
              (way) => way.reduce((sum, bit) => sum + bit, 0) === failed,
            )
            const hits = ways.filter((way) => way.slice(0, having).reduce((sum, bit) => sum + bit, 0) >= both).length
            expect(fisher({ all, failed, having, both })).toBeCloseTo(hits / ways.length, 9)
          }
  })

  const of = (factor: Shared['factor'], name: string, tags: string[]): Shared => ({ factor, name, where: '', tags })
  const TAKEN = ['A-01', 'A-02', 'A-03', 'A-04', 'A-05']

  it('ranks what is least likely an accident first', () => {
    const ranked = rankCauses(
      TAKEN,
      ['A-01', 'A-02'],
      [of('builder', 'Sam', ['A-01', 'A-02', 'A-03']), of('batch', 'B-0007', ['A-01', 'A-02'])],
    )
    expect(ranked.map(({ name }) => name)).toEqual(['B-0007', 'Sam'])
    expect(ranked[0]).toMatchObject({ failedWith: 2, passedWith: 0, failedWithout: 0, passedWithout: 3 })
    expect(ranked[0]?.chance).toBeCloseTo(1 / 10, 12)
    expect(ranked[1]?.chance).toBeCloseTo(3 / 10, 12)
  })

  it('leaves out what all have and what only one of the failed has', () => {
    expect(rankCauses(TAKEN, ['A-01', 'A-02'], [of('batch', 'B-0001', TAKEN), of('batch', 'B-0002', ['A-01', 'A-04'])])).toEqual([])
  })

  it('says how little so few units can show, and that many comparisons weaken each', () => {
    expect(causeWords(3, 2, 4)).toBe(
      'Of 3 units 2 failed; the smallest chance that so few could show is 1 in 3. 4 things were compared, so one small figure among them is no proof: look there first.',
    )
    expect(chanceWords(0.7)).toBe('70 in 100')
    expect(chanceWords(1)).toBe('certain')
  })
})

describe('a run at a glance', () => {
  let stage: Stage
  afterEach(() => stage.close())

  it('shows every unit beside every other, what failed twice, and what those have in common', async () => {
    stage = openStage()
    await makeBench(stage, { key: 'samphire-fc8', units: 4 })
    await bringUpUnit(stage, 'PIPIT-01', 'F9', { F5: '6.0' })
    await bringUpUnit(stage, 'PIPIT-02', 'F9', { F5: '6.1', F8: '40' })
    await bringUpUnit(stage, 'PIPIT-03', 'F9', { F5: '5.9', F8: '44' })
    await bringUpUnit(stage, 'PIPIT-04', 'F9', { F5: '11.5' })
    const maker = await stage.as('maker')
    const view = await maker.faults.run({ prefix: 'pipit' })
    expect(view.units.map(({ tag }) => tag)).toEqual(['PIPIT-01', 'PIPIT-02', 'PIPIT-03', 'PIPIT-04'])
    const f8 = view.checks.find(({ key }) => key === 'F8')
    expect(f8?.cells.map(({ state }) => state)).toEqual(['pass', 'fail', 'fail', 'pass'])
    expect(view.checks.find(({ key }) => key === 'F19')?.cells.map(({ state }) => state)).toEqual(['none', 'none', 'none', 'none'])
    const f5 = view.checks.find(({ key }) => key === 'F5')
    expect(f5?.readings.filter(({ isApart }) => isApart)).toMatchObject([{ tag: 'PIPIT-04', verdict: 'pass' }])
    expect(view.common).toMatchObject([{ check: 'F8', failed: ['PIPIT-02', 'PIPIT-03'], taken: 4 }])
    expect(view.units.map(({ fault }) => fault)).toEqual([null, 'F8 Ripple on 3.3 V: 40 mVpp', 'F8 Ripple on 3.3 V: 44 mVpp', null])
    const rack = await maker.bringup.rack()
    const pipit = rack.find(({ prefix }) => prefix === 'PIPIT')
    expect(pipit?.shared).toEqual(['F8'])
    expect(pipit?.units[1]?.next.words).toBe('F8 failed: Ripple on 3.3 V, as on PIPIT-03: something common?')
    expect(await refusedAt(maker.faults.run({ prefix: 'GULL' }))).toEqual({
      prefix: 'There is no run GULL. Its units would be called GULL-01.',
    })
  })
})
