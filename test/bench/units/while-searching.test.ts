import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { hasPassed, standingOf, type TakenReading, type UnitHistory } from '#bench/units/current.rules'
import { type Bench, permissions, whyWaitSearching } from '#bench/units/permitted.rules'
import { CHECKS, check, FEEDS, passed } from './make'

const NOTHING: UnitHistory = { readings: [], changes: [], releases: [] }
const bench = (history: Partial<UnitHistory>, over: Partial<Bench> = {}): Bench => {
  const { states } = standingOf(CHECKS, FEEDS, { ...NOTHING, ...history })
  return { checks: CHECKS, feeds: FEEDS, positions: [], states, fitted: new Set(), setAside: null, ...over }
}
const searched = (key: string, seq: number, over: Partial<TakenReading> = {}) => passed(key, seq, { isWhileSearching: true, ...over })
const wait = (key: string, given: Bench) => {
  const found = CHECKS.find((one) => one.key === key)
  if (!found) throw new Error(`no check ${key}`)
  return whyWaitSearching(found, given)?.why ?? null
}
const COLD = [passed('V1', 1), passed('K1', 2)]
const release = (key: string, seq: number) => ({ check: key, seq, name: 'Maren Holt' })
const TO_RAIL = { readings: [...COLD, passed('R1', 5)], releases: [release('K1', 3), release('R1', 6)] }

describe('a reading taken while searching', () => {
  it('is no pass: what needs its check goes on waiting', () => {
    const given = bench({ readings: [searched('V1', 1)] })
    expect(given.states.get('V1')).toMatchObject({ current: 'V1@1', verdict: 'pass', isWhileSearching: true })
    expect(permissions(given).find((one) => one.check === 'K1')).toMatchObject({ may: 'wait', waitsFor: ['V1'] })
  })

  it('leaves a pass in its order standing when it passes, and ends it when it fails', () => {
    const beside = standingOf(CHECKS, FEEDS, { ...NOTHING, readings: [passed('A1', 1), searched('A1', 2)] })
    expect(beside.states.get('A1')).toMatchObject({ current: 'A1@1', isWhileSearching: false })
    expect(beside.superseded.get('A1@2')?.why).toBe('the reading in its order stands')
    const against = standingOf(CHECKS, FEEDS, { ...NOTHING, readings: [passed('A1', 1), searched('A1', 2, { verdict: 'fail' })] })
    expect(against.states.get('A1')).toMatchObject({ current: 'A1@2', verdict: 'fail' })
  })

  it('does not take away a failure that stands', () => {
    const { states } = standingOf(CHECKS, FEEDS, { ...NOTHING, readings: [passed('A1', 1, { verdict: 'fail' }), searched('A1', 2)] })
    expect(states.get('A1')).toMatchObject({ current: 'A1@1', verdict: 'fail' })
  })

  it('is superseded by the reading in its order', () => {
    const { states, superseded } = standingOf(CHECKS, FEEDS, { ...NOTHING, readings: [searched('A1', 1), passed('A1', 2)] })
    expect(states.get('A1')).toMatchObject({ current: 'A1@2', isWhileSearching: false })
    expect(superseded.get('A1@1')?.why).toBe('taken again')
  })
})

describe('what binds while searching', () => {
  it('no other needs: a check may be taken long before its turn', () => {
    expect(permissions(bench(TO_RAIL)).find((one) => one.check === 'S1')).toMatchObject({ may: 'wait', why: expect.stringContaining('A1') })
    expect(wait('S1', bench(TO_RAIL))).toBeNull()
  })

  it('no power while a cold check was never taken, failed, or is lost', () => {
    expect(wait('P1', bench({}))).toBe('No power while a cold check has no pass that stands: K1.')
    expect(wait('P1', bench({ readings: [passed('K1', 1, { verdict: 'fail' })] }))).toContain('K1')
    const iron = { id: 'c', seq: 9, blocks: ['audio'], iron: true, words: 'C7 replaced' }
    expect(wait('A1', bench({ ...TO_RAIL, changes: [iron] }))).toContain('K1')
  })

  it('nor past a rail that holds, until somebody released it', () => {
    expect(wait('A1', bench({ readings: COLD, releases: [release('K1', 3)] }))).toBe(
      'Hold point R1 has not passed, and power waits for it.',
    )
    expect(wait('A1', bench({ ...TO_RAIL, releases: [release('K1', 3)] }))).toBe('Hold point R1 is not released, and power waits for it.')
    expect(wait('R1', bench({ readings: COLD, releases: [release('K1', 3)] }))).toBeNull()
  })

  it('and a pass taken while searching opens neither', () => {
    expect(wait('P1', bench({ readings: [searched('K1', 1)] }))).toContain('K1')
    expect(wait('A1', bench({ readings: [...COLD, searched('R1', 5)], releases: [release('K1', 3), release('R1', 6)] }))).toContain('R1')
  })

  it('nothing without power, unless the unit is set aside or what it looks at is not fitted', () => {
    expect(wait('V1', bench({}))).toBeNull()
    expect(wait('V1', bench({}, { setAside: 'bad batch' }))).toBe('Set aside: bad batch')
    const position = { designator: 'U2', partId: 'part', blocks: ['audio'], fittedAfter: null, isProgrammed: false }
    expect(wait('A1', bench(TO_RAIL, { positions: [position] }))).toBe('Still empty: U2. Fit them first.')
  })

  it('a hold of a program or of the soak guards no power', () => {
    const program = check('M1', 5, { isHold: true, kind: 'match', isPowered: false })
    const after = check('N1', 6)
    const checks = [program, after]
    const { states } = standingOf(checks, [], NOTHING)
    expect(whyWaitSearching(after, { ...bench({}), checks, states })).toBeNull()
  })
})

const keys = CHECKS.map(({ key }) => key)
const arbReading = fc.record({
  kind: fc.constant('reading' as const),
  key: fc.constantFrom(...keys),
  verdict: fc.constantFrom('pass' as const, 'fail' as const, 'pass within doubt' as const),
  isWhileSearching: fc.boolean(),
})
const arbChange = fc.record({
  kind: fc.constant('change' as const),
  block: fc.constantFrom('assembly', 'supply', 'rail', 'oscillator', 'audio'),
  iron: fc.boolean(),
})
const arbHistory = fc.array(fc.oneof({ weight: 4, arbitrary: arbReading }, arbChange), { maxLength: 40 }).map((events): UnitHistory => {
  const numbered = events.map((event, index) => ({ ...event, seq: index + 1 }))
  return {
    readings: numbered.flatMap((one) =>
      one.kind === 'reading' ? passed(one.key, one.seq, { verdict: one.verdict, isWhileSearching: one.isWhileSearching }) : [],
    ),
    changes: numbered.flatMap((one) =>
      one.kind === 'change' ? { id: `c@${one.seq}`, seq: one.seq, blocks: [one.block], iron: one.iron, words: 'changed' } : [],
    ),
    releases: [],
  }
})
const passing = (history: UnitHistory) => {
  const { states } = standingOf(CHECKS, FEEDS, history)
  return keys.filter((key) => hasPassed(states.get(key)))
}
const inOrderOnly = (history: UnitHistory) => ({ ...history, readings: history.readings.filter((one) => !one.isWhileSearching) })

describe('for any history', () => {
  it('no check counts as passed that would not without what was taken while searching', () => {
    fc.assert(
      fc.property(arbHistory, (history) => {
        const without = new Set(passing(inOrderOnly(history)))
        expect(passing(history).filter((key) => !without.has(key))).toEqual([])
      }),
    )
  })

  it('passes taken while searching neither add a pass nor take one away', () => {
    fc.assert(
      fc.property(arbHistory, (history) => {
        const friendly = { ...history, readings: history.readings.filter((one) => !one.isWhileSearching || one.verdict !== 'fail') }
        expect(passing(friendly)).toEqual(passing(inOrderOnly(friendly)))
      }),
    )
  })

  it('nothing taken while searching lets a check be taken in its order that could not be', () => {
    fc.assert(
      fc.property(arbHistory, (history) => {
        const open = (given: UnitHistory) =>
          permissions(bench(given)).flatMap((one) =>
            one.may === 'wait' ? [] : one.may === 'done' || one.may === 'release' ? [] : one.check,
          )
        const without = permissions(bench(inOrderOnly(history)))
        const couldWait = new Set(without.flatMap((one) => (one.may === 'wait' ? one.check : [])))
        expect(open(history).filter((key) => couldWait.has(key))).toEqual([])
      }),
    )
  })
})
