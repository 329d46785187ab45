import { describe, expect, it } from 'vitest'
import { catchesOf } from '#bench/faults/catch.rules'
import { rankChecks } from '#bench/faults/rank.rules'
import { chainOf, DEMO_MACHINES, inOrder, leastMinutes, type Machine, ranked, readMachine, walk } from '#test/make/search'
import { CHECKS, check, FEEDS } from '../units/make'

const CERTAIN = [
  { says: 'loads unseen by rails', common: { own: 1, feeding: 1, loading: 0 } },
  { says: 'every load seen by its rail', common: { own: 1, feeding: 1, loading: 1 } },
]
const most = (blocks: number) => Math.ceil(Math.log2(blocks)) + 2
const searches = (machine: Machine, pick: Parameters<typeof walk>[0]['pick']) =>
  machine.blocks.map((block) => ({
    block,
    ...walk({ machine, enough: 1, pick, fails: (key) => (machine.catches.get(key)?.get(block) ?? 0) > 0 }),
  }))
const minutesOf = (all: { minutes: number }[]) => all.reduce((sum, one) => sum + one.minutes, 0)
const listed = (machine: Machine) => inOrder(machine.checks.map(({ key }) => key))

describe('on a chain of equal blocks with certain checks', () => {
  // Half-split: each check halves what is left, so n blocks take ⌈log2 n⌉ checks, as troubleshooting handbooks say.
  it.each([2, 3, 4, 5, 7, 8, 9, 15, 16, 31, 32])('%i blocks are halved again and again', (length) => {
    const machine = chainOf(length, { own: 1, feeding: 1, loading: 0 })
    for (const { block, checks, found } of searches(machine, ranked)) {
      expect(found).toBe(block)
      expect(checks.length).toBeLessThanOrEqual(Math.ceil(Math.log2(length)))
    }
  })

  it('of sixteen the first look is at the eighth', () => {
    expect(searches(chainOf(16, { own: 1, feeding: 1, loading: 0 }), ranked)[0]?.checks[0]).toBe('C8')
  })
})

describe.each(CERTAIN)('on every single fault of the four machines, certain checks, $says', ({ common }) => {
  it.each(DEMO_MACHINES)('%s: the block is found in ⌈log2 n⌉ + 2 checks at most', (key) => {
    const machine = readMachine(key, common)
    for (const { block, checks, left } of searches(machine, ranked)) {
      expect(left).toContain(block)
      expect(checks.length).toBeLessThanOrEqual(most(machine.blocks.length))
    }
  })

  it.each(DEMO_MACHINES)('%s: in a quarter of the minutes of checklist order, all faults taken together', (key) => {
    const machine = readMachine(key, common)
    expect(minutesOf(searches(machine, ranked))).toBeLessThanOrEqual(minutesOf(searches(machine, listed(machine))) / 4)
  })

  it.each(DEMO_MACHINES)('%s: within a twentieth of the least minutes that any search could take', (key) => {
    const machine = readMachine(key, common)
    const least = leastMinutes(machine)
    expect(minutesOf(searches(machine, ranked))).toBeLessThanOrEqual(least * 1.05)
    expect(minutesOf(searches(machine, ranked))).toBeGreaterThanOrEqual(least - 1e-9)
  })
})

it('every single block is told apart from every other where rails do not see their loads', () => {
  for (const key of DEMO_MACHINES) {
    for (const { block, left } of searches(readMachine(key, { own: 1, feeding: 1, loading: 0 }), ranked)) expect(left).toEqual([block])
  }
})

// Only the check of an hour tells the backup cell of the clock from what nothing but the soak sees.
it.each(DEMO_MACHINES)('%s with what only a soak would find among the suspects: no more checks, and near the least minutes', (key) => {
  const machine = readMachine(key, { own: 1, feeding: 1, loading: 0 }, { seenOnly: false })
  const all = searches(machine, ranked)
  for (const { checks } of all) expect(checks.length).toBeLessThanOrEqual(most(machine.blocks.length))
  expect(minutesOf(all)).toBeLessThanOrEqual(leastMinutes(machine) * 1.05)
})

describe('where to look next', () => {
  const blocks = ['assembly', 'supply', 'rail', 'oscillator', 'audio', 'whole unit']
  const catches = catchesOf({ checks: CHECKS, feeds: FEEDS, blocks, fitted: new Set(blocks) })
  const equal = (...some: string[]) => some.map((block) => ({ blocks: [block], weight: 1 / some.length }))
  const given = {
    checks: CHECKS,
    catches,
    suspicions: equal('supply', 'rail', 'oscillator', 'audio'),
    seen: new Set<string>(),
    open: new Set(['K1', 'R1']),
    bars: new Map<string, string>(),
  }
  const find = (key: string, over: Partial<typeof given> = {}) => rankChecks({ ...given, ...over }).find((one) => one.check === key)

  it('a soak and the close-out never help, and say why', () => {
    expect(find('S1')).toMatchObject({ is: 'nothing', why: 'A soak shows that there is a fault, not where.' })
    expect(find('Z1')).toMatchObject({ is: 'nothing', why: 'It closes the record and measures nothing.' })
    expect(
      rankChecks(given)
        .slice(-3)
        .map(({ is }) => is),
    ).toEqual(['nothing', 'nothing', 'nothing'])
  })

  it('a check that none of the suspects could fail stands last, with the reason', () => {
    expect(find('V1')).toMatchObject({ is: 'nothing', why: 'It would pass whichever of the suspects it is.' })
  })

  it('a check that looks the same for all that is left tells nothing', () => {
    expect(find('A1', { suspicions: equal('supply', 'rail') })).toMatchObject({
      is: 'nothing',
      why: 'It looks the same for all that are left.',
    })
  })

  it('the same information in fewer minutes comes first', () => {
    const checks = [check('long', 1, { exercises: ['a'], minutes: 9 }), check('short', 2, { exercises: ['a'], minutes: 2 })]
    const both = new Map(checks.map(({ key }) => [key, new Map([['a', 0.9]])]))
    const all = rankChecks({ ...given, checks, catches: both, suspicions: equal('a', 'b') })
    expect(all.map((one) => one.check)).toEqual(['short', 'long'])
    expect((all[0]?.rate ?? 0) / (all[1]?.rate ?? 1)).toBeCloseTo(10 / 3, 9)
  })

  it('with power not allowed, what needs it waits and the cold check that opens the way comes first', () => {
    const all = rankChecks({ ...given, open: new Set() })
    expect(all[0]).toMatchObject({ check: 'K1', is: 'tells' })
    expect(all.find((one) => one.check === 'O1')).toMatchObject({ is: 'waits', why: 'No power before K1, R1.' })
  })

  it('a cold check that tells nothing by itself is still worth its minutes for what it opens', () => {
    expect(find('K1', { open: new Set(['R1']), suspicions: equal('oscillator', 'audio') })).toMatchObject({
      is: 'tells',
      bits: 0,
      opens: 'O1',
    })
  })

  it('a cold check that has failed opens nothing: power waits until it is mended', () => {
    const all = rankChecks({ ...given, open: new Set(), seen: new Set(['K1']), suspicions: equal('oscillator', 'audio') })
    expect(all.some(({ is }) => is === 'tells')).toBe(false)
  })

  it('what cannot be measured yet waits with its reason', () => {
    expect(find('O1', { bars: new Map([['O1', 'Still empty: U2. Fit them first.']]) })).toMatchObject({
      is: 'waits',
      why: 'Still empty: U2. Fit them first.',
    })
  })
})
