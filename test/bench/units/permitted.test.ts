import { describe, expect, it } from 'vitest'
import type { Position } from '#bench/designs/design.contract'
import { standingOf, type UnitHistory } from '#bench/units/current.rules'
import { type Bench, nextPermitted, permissions } from '#bench/units/permitted.rules'
import { CHECKS, FEEDS, passed } from './make'

const position = (designator: string, blocks: string[], fittedAfter: string | null = null): Position => ({
  designator,
  partId: 'part',
  blocks,
  fittedAfter,
  isProgrammed: false,
})
const POSITIONS = [position('R1', ['supply']), position('U2', ['audio'], 'R1')]

function bench(history: Partial<UnitHistory>, over: Partial<Bench> = {}): Bench {
  const { states } = standingOf(CHECKS, FEEDS, { readings: [], changes: [], releases: [], ...history })
  return { checks: CHECKS, feeds: FEEDS, positions: POSITIONS, states, fitted: new Set(['R1', 'U2']), setAside: null, ...over }
}
const release = (check: string, seq: number) => ({ check, seq, name: 'Maren Holt' })
const why = (check: string, given: Bench) => permissions(given).find((one) => one.check === check)
const UP_TO_RAIL = {
  readings: [passed('V1', 1), passed('K1', 2), passed('P1', 4), passed('R1', 5)],
  releases: [release('K1', 3), release('R1', 6)],
}

describe('what may be taken next', () => {
  it('begins at the top of the list', () => {
    expect(nextPermitted(bench({}))).toMatchObject({ check: 'V1', may: 'take' })
  })

  it('a check whose needs are not met says which', () => {
    expect(why('K1', bench({}))).toMatchObject({ may: 'wait', why: 'Needs V1 passed first.', waitsFor: ['V1'] })
  })

  it('a hold point that has passed asks to be released before anything else', () => {
    const held = bench({ readings: [passed('V1', 1), passed('K1', 2)] })
    expect(nextPermitted(held)).toMatchObject({ check: 'K1', may: 'release' })
    expect(why('P1', held)).toMatchObject({ may: 'wait', why: 'Hold point K1 is not released.' })
  })

  it('a hold point stops every check below it in the list, though none names it', () => {
    const readings = [passed('V1', 1), passed('K1', 2), passed('P1', 4), passed('R1', 5, { verdict: 'fail' })]
    expect(why('A1', bench({ readings, releases: [release('K1', 3)] }))).toMatchObject({ may: 'wait', waitsFor: ['R1'] })
  })

  it('a failed check is offered again and its followers wait', () => {
    const failed = bench({ ...UP_TO_RAIL, readings: [...UP_TO_RAIL.readings, passed('R2', 7, { verdict: 'fail' })] })
    expect(nextPermitted(failed)).toMatchObject({ check: 'R2', may: 'take' })
    expect(why('S1', failed)?.may).toBe('wait')
  })

  it('a pass within doubt lets the work go on and a fail within doubt does not', () => {
    const doubt = (verdict: 'pass within doubt' | 'fail within doubt') => bench({ readings: [passed('V1', 1, { verdict })] })
    expect(why('K1', doubt('pass within doubt'))?.may).toBe('take')
    expect(why('K1', doubt('fail within doubt'))?.may).toBe('wait')
  })

  it('while a cold check is lost there is no power, and other cold work goes on', () => {
    const soldered = { id: 'c', seq: 10, blocks: ['audio'], iron: true, words: 'C7 replaced' }
    const given = bench({ ...UP_TO_RAIL, changes: [soldered] })
    expect(nextPermitted(given)).toMatchObject({ check: 'V1', may: 'take' })
    expect(why('A1', given)?.may).toBe('wait')
    const looked = bench({ ...UP_TO_RAIL, readings: [...UP_TO_RAIL.readings, passed('V1', 11)], changes: [soldered] })
    expect(nextPermitted(looked)).toMatchObject({ check: 'K1', may: 'take' })
    expect(why('P1', looked)?.may).toBe('wait')
  })

  it('an empty position stops the list from the start, unless it is fitted after a check', () => {
    expect(why('V1', bench({}, { fitted: new Set(['U2']) }))).toMatchObject({ may: 'wait', why: 'Still empty: R1. Fit them first.' })
    expect(why('V1', bench({}, { fitted: new Set(['R1']) }))?.may).toBe('take')
  })

  it('a check that works a late position waits until it is fitted, others do not', () => {
    const given = bench(UP_TO_RAIL, { fitted: new Set(['R1']) })
    expect(why('A1', given)).toMatchObject({ may: 'wait', why: 'Still empty: U2. Fit them first.' })
    expect(why('O1', given)?.may).toBe('take')
  })

  it('nothing is taken on a unit set aside', () => {
    expect(nextPermitted(bench({}, { setAside: 'batch B-0147 is suspect' }))).toBeNull()
  })

  it('when all is done there is nothing next', () => {
    const readings = CHECKS.map((one, index) => passed(one.key, index + 1))
    const releases = CHECKS.filter((one) => one.isHold).map((one, index) => release(one.key, 20 + index))
    expect(nextPermitted(bench({ readings, releases }))).toBeNull()
  })
})
