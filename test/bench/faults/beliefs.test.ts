import { describe, expect, it } from 'vitest'
import { timesLikelier } from '#bench/faults/batch-evidence.rules'
import { asTaken, type Catches } from '#bench/faults/catch.rules'
import { forWhatFails, quantityOf, UNLIKE } from '#bench/faults/likeness.rules'
import { oddsWords, percent } from '#bench/faults/odds.rules'
import { afterPasses, passesAll } from '#bench/faults/passes.rules'
import { type PieceFacts, priorOf } from '#bench/faults/prior.rules'
import { suspect } from '#bench/faults/suspects.rules'
import { check } from '../units/make'

describe('what the run shows of a batch', () => {
  it('makes it likelier by the Bayes factor of two binomials', () => {
    // 2 of 2 with it fail, none of 3 without: B(3,1) B(1,4) ÷ B(3,4) = (1/3)(1/4) ÷ (1/60) = 5.
    expect(timesLikelier({ failedWith: 2, passedWith: 0, failedWithout: 0, passedWithout: 3 })).toBeCloseTo(5, 12)
    // 1 of 1 with it and 1 of 2 without: (1/2)(1/6) ÷ (1/12) = 1.
    expect(timesLikelier({ failedWith: 1, passedWith: 0, failedWithout: 1, passedWithout: 1 })).toBeCloseTo(1, 12)
  })

  it('and never less likely, nor by more than a small run can say', () => {
    expect(timesLikelier({ failedWith: 0, passedWith: 3, failedWithout: 2, passedWithout: 0 })).toBe(1)
    expect(timesLikelier({ failedWith: 2, passedWith: 0, failedWithout: 0, passedWithout: 0 })).toBe(1)
    expect(timesLikelier({ failedWith: 20, passedWith: 0, failedWithout: 0, passedWithout: 20 })).toBe(20)
  })

  it('enters the prior of the block that holds it, with the reason in words', () => {
    const piece = (designator: string, block: string, over: Partial<PieceFacts> = {}): PieceFacts => ({
      designator,
      blocks: [block],
      kind: 'chip',
      isSoldered: false,
      at: 0,
      batch: { code: `B-${designator}`, bad: 0, fitted: 5, isSuspect: false },
      ...over,
    })
    const inRun = { check: 'C12', failedWith: 2, passedWith: 0, failedWithout: 0, passedWithout: 3 }
    const facts = (over: Partial<PieceFacts>) => ({
      blocks: ['audio', 'clock'],
      pieces: [piece('U1', 'audio', over), piece('U2', 'clock')],
      irons: [],
      foundAt: 0,
    })
    const [before, after] = [priorOf(facts({})), priorOf(facts({ inRun }))]
    expect(before.shares.get('audio')).toBeCloseTo(0.5, 12)
    expect(after.shares.get('audio')).toBeGreaterThan(0.75)
    expect(after.reasons.get('audio')).toEqual(['batch B-U1 is in 2 of 2 units that fail C12 and in none of 3 that pass'])
  })
})

describe('a pass of another quantity', () => {
  const checks = [
    check('V', 1),
    check('R', 2, { unit: 'mVpp' }),
    check('F', 3, { unit: 'kHz' }),
    check('Y', 4, { kind: 'yesno', unit: '' }),
  ]
  const catches: Catches = asTaken(new Map(checks.map(({ key }) => [key, new Map([['audio', 0.9]])])))
  const share = (key: string, failed: string[]) => forWhatFails(catches, checks, failed).get(key)?.get('audio')

  it('says less of what fails', () => {
    expect(checks.map(quantityOf)).toEqual(['level', 'swing', 'time', null])
    expect(share('V', ['R'])).toBeCloseTo(0.9 * UNLIKE, 12)
    expect(share('F', ['R'])).toBeCloseTo(0.9 * UNLIKE, 12)
    expect(share('R', ['R'])).toBe(0.9)
  })

  it('and a yes, which speaks of everything, as much as before', () => {
    expect(share('Y', ['R'])).toBe(0.9)
    expect(share('V', ['Y'])).toBe(0.9)
    expect(share('V', [])).toBe(0.9)
  })

  it('leaves the block more suspect than a pass of the same quantity would', () => {
    const prior = new Map([
      ['audio', 0.5],
      ['supply', 0.5],
    ])
    const both: Catches = asTaken(
      new Map(checks.map(({ key }) => [key, new Map([['audio', 0.9], ...(key === 'R' ? [['supply', 0.9] as const] : [])])])),
    )
    const seen = [
      { check: 'R', failed: true },
      { check: 'V', failed: false },
    ]
    const as = (table: Catches) => suspect(prior, seen, table).shares.get('audio') ?? 0
    expect(as(forWhatFails(both, checks, ['R']))).toBeGreaterThan(2 * as(both))
  })
})

describe('passes of one block', () => {
  it('do not count as if each were drawn alone, and each still counts', () => {
    expect(passesAll([0.1])).toBeCloseTo(0.1, 12)
    expect(passesAll([0.1, 0.1])).toBeGreaterThan(0.01)
    expect(passesAll([0.1, 0.1])).toBeLessThan(0.1)
    expect(passesAll([0.5, 0.1])).toBe(passesAll([0.1, 0.5]))
    expect(passesAll([])).toBe(1)
  })

  it('leave less for a further check of the same block to find, and of another as much as before', () => {
    const catches: Catches = asTaken(
      new Map([
        ['A1', new Map([['audio', 0.9]])],
        ['A2', new Map([['audio', 0.9]])],
        ['O1', new Map([['clock', 0.9]])],
      ]),
    )
    const after = afterPasses(catches, [{ check: 'A1', failed: false }])
    expect(after.get('A2')?.get('audio')).toBeLessThan(0.9)
    expect(after.get('A2')?.get('audio')).toBeGreaterThan(0.7)
    expect(after.get('O1')?.get('clock')).toBeCloseTo(0.9, 12)
    expect(
      afterPasses(catches, [{ check: 'A1', failed: true }])
        .get('A2')
        ?.get('audio'),
    ).toBeCloseTo(0.9, 12)
  })
})

it('nothing is ever said to be all, nor nothing', () => {
  expect([1, 0.9999, 0.995, 0.43, 0.004, 0].map(percent)).toEqual(['>99 %', '>99 %', '>99 %', '43 %', '0.4 %', '<0.1 %'])
  expect(percent(0.99)).toBe('99 %')
  expect([1, 0.6, 0.45, 0.25, 0.1, 0.02, 0].map(oddsWords)).toEqual([
    'very likely',
    'more likely than not',
    'about even',
    'about one in four',
    'about one in ten',
    'hardly',
    'next to nothing',
  ])
})
