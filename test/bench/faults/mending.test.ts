import { describe, expect, it } from 'vitest'
import { COMMON_CATCH } from '#bench/faults/catch.rules'
import { allSeen } from '#bench/faults/evidence.rules'
import { afterMends, mendedInVain } from '#bench/faults/mended.rules'
import { priorOf } from '#bench/faults/prior.rules'
import { mend, slipped } from '#test/make/mending'
import { DEMO_MACHINES, readMachine } from '#test/make/search'
import { check } from '../units/make'

const share = (list: readonly boolean[]) => list.filter(Boolean).length / list.length
const TRIALS = 6

describe.each(DEMO_MACHINES)('%s, mended as its page says', (key) => {
  const machine = readMachine(key, COMMON_CATCH)
  const singles = machine.blocks.flatMap((block, at) =>
    Array.from({ length: TRIALS }, (_, trial) => mend(machine, [block], at * 100 + trial + 1)),
  )
  const pairs = machine.blocks.flatMap((one, at) =>
    machine.blocks.slice(at + 1).map((other, beside) => mend(machine, [one, other], at * 1000 + beside + 1)),
  )

  it('98 of 100 single faults are mended, 95 of 100 pairs, and it never names one wrong block for ever', () => {
    expect(share(singles.map(({ isMended }) => isMended))).toBeGreaterThanOrEqual(0.98)
    expect(share(pairs.map(({ isMended }) => isMended))).toBeGreaterThanOrEqual(0.95)
    expect([...singles, ...pairs].some(({ isStuck }) => isStuck)).toBe(false)
  })

  it('with checks that catch seven in ten, 90 of 100 single faults are mended', () => {
    const blunt = readMachine(key, { own: 0.7, feeding: 0.7, loading: 0.35 })
    const all = blunt.blocks.flatMap((block, at) =>
      Array.from({ length: TRIALS }, (_, trial) => mend(blunt, [block], at * 100 + trial + 1)),
    )
    expect(share(all.map(({ isMended }) => isMended))).toBeGreaterThanOrEqual(0.9)
  })

  it('one reading that slipped clears nobody, and the guilty block stays among the first three in 75 of 100 cases', () => {
    const all = machine.blocks.flatMap((block, at) =>
      Array.from({ length: 20 }, (_, trial) => slipped(machine, block, at * 100 + trial + 1)).flatMap((one) => one ?? []),
    )
    expect(all.every((one) => one.share > 0)).toBe(true)
    expect(share(all.map(({ place }) => place <= 3))).toBeGreaterThanOrEqual(0.75)
  })
})

it('a block that was changed, and something has failed since, is five times less suspect each time', () => {
  const times = mendedInVain(
    [
      { seq: 3, blocks: ['audio', 'rail'] },
      { seq: 9, blocks: ['audio'] },
    ],
    [5],
  )
  expect([...times]).toEqual([
    ['audio', 1],
    ['rail', 1],
  ])
  const after = afterMends(
    new Map([
      ['audio', 0.5],
      ['supply', 0.5],
    ]),
    times,
  )
  expect(after.get('audio')).toBeCloseTo(0.1 / 0.6, 12)
})

it('a joint that was made after the fault was found did not cause it', () => {
  const piece = {
    designator: 'R1',
    blocks: ['audio'],
    kind: 'resistor',
    isSoldered: true,
    batch: { code: 'B-1', bad: 0, fitted: 1, isSuspect: false },
  } as const
  const weight = (at: number) => priorOf({ blocks: ['audio'], pieces: [{ ...piece, at }], irons: [], foundAt: 1000 }).pieces[0]?.weight ?? 0
  expect(weight(1001)).toBeLessThan(weight(999) / 5)
})

it('what comes and goes counts as all that was seen; what was corrected, or is of before a change, does not', () => {
  const reading = (id: string, seq: number, verdict: 'pass' | 'fail', correction: string | null = null) => ({
    id,
    seq,
    check: 'A1',
    verdict,
    correction,
  })
  const seen = (readings: ReturnType<typeof reading>[], lost: string[] = []) =>
    allSeen(readings, new Map(lost.map((id) => [id, { reading: id, by: 'change' as const, id: 'w', why: '' }])), [check('A1', 1)]).map(
      ({ failed }) => failed,
    )
  expect(seen([reading('a', 1, 'fail'), reading('b', 2, 'pass'), reading('c', 3, 'pass'), reading('d', 4, 'fail')])).toEqual([
    true,
    false,
    true,
  ])
  expect(seen([reading('a', 1, 'fail'), reading('b', 2, 'pass', 'mistyped')])).toEqual([false])
  expect(seen([reading('a', 1, 'fail'), reading('b', 2, 'pass')], ['a'])).toEqual([false])
})
