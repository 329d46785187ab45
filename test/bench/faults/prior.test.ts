import { describe, expect, it } from 'vitest'
import { learnt, minutesFor, sharpened, taughtCatches } from '#bench/faults/learn.rules'
import { JOINT_TODAY, PIECE_RATES, type PieceFacts, priorOf } from '#bench/faults/prior.rules'
import { DAY, HOUR } from '#kernel/instant'

const FOUND = Date.parse('2027-03-10T18:00:00Z')
const piece = (block: string, over: Partial<PieceFacts> = {}): PieceFacts => ({
  designator: 'R1',
  blocks: [block],
  kind: 'resistor',
  isSoldered: true,
  at: FOUND - 20 * DAY,
  batch: { code: 'B-0001', bad: 0, fitted: 10, isSuspect: false },
  ...over,
})
const prior = (pieces: PieceFacts[], irons: Parameters<typeof priorOf>[0]['irons'] = []) =>
  priorOf({ blocks: ['a', 'b'], pieces, irons, foundAt: FOUND })
const shareOf = (block: string, given: ReturnType<typeof prior>) => given.shares.get(block) ?? 0

describe('before any check is weighed', () => {
  it('shares sum to one, and blocks without parts are suspected a little', () => {
    const given = prior([piece('a')])
    expect(shareOf('a', given) + shareOf('b', given)).toBeCloseTo(1, 12)
    expect(shareOf('b', given)).toBeGreaterThan(0)
  })

  it('a block with a chip is more suspect than one with a resistor', () => {
    const given = prior([piece('a', { kind: 'chip' }), piece('b')])
    expect(shareOf('a', given)).toBeGreaterThan(shareOf('b', given))
  })

  it('what was soldered today comes before any part', () => {
    const given = prior([piece('a', { at: FOUND - 2 * HOUR }), piece('b', { kind: 'chip' })])
    expect(shareOf('a', given)).toBeGreaterThan(shareOf('b', given))
    expect(given.reasons.get('a')).toEqual(['a joint made in the day before'])
    expect(Math.max(...Object.values(PIECE_RATES))).toBeLessThan(JOINT_TODAY)
  })

  it('a joint of the day before yesterday does not, nor a piece pushed into a socket', () => {
    const old = prior([piece('a', { at: FOUND - 2 * DAY }), piece('b', { at: FOUND - HOUR, isSoldered: false })])
    expect(old.reasons.get('a')).toEqual([])
    expect(old.reasons.get('b')).toEqual([])
  })

  it('an iron on a block counts as a joint, though no piece was changed', () => {
    const given = prior([piece('a'), piece('b')], [{ blocks: ['a'], at: FOUND - HOUR }])
    expect(shareOf('a', given)).toBeGreaterThan(shareOf('b', given))
  })

  it('a batch in quarantine makes its pieces ten times likelier, and says so', () => {
    const suspect = { code: 'B-0007', bad: 0, fitted: 10, isSuspect: true }
    const given = prior([piece('a', { kind: 'chip', batch: suspect }), piece('b', { kind: 'chip' })])
    expect(shareOf('a', given)).toBeGreaterThan(4 * shareOf('b', given))
    expect(given.reasons.get('a')).toEqual(['pieces of B-0007, which is in quarantine'])
  })

  it('a batch of which many were bad is more suspect than one of which none was', () => {
    const poor = { code: 'B-0007', bad: 4, fitted: 6, isSuspect: false }
    const given = prior([piece('a', { batch: poor }), piece('b')])
    expect(shareOf('a', given)).toBeGreaterThan(2 * shareOf('b', given))
    expect(given.reasons.get('a')).toEqual(['4 of batch B-0007 were bad'])
  })

  it('a piece in two blocks counts half for each', () => {
    const both = prior([piece('a', { blocks: ['a', 'b'], kind: 'board' })])
    expect(shareOf('a', both)).toBeCloseTo(0.5, 12)
  })
})

describe('what closed faults teach', () => {
  const closed = (block: string, minutes = 30, seen: Record<string, boolean> = {}) => ({ block, minutes, seen })
  const equal = new Map([
    ['a', 0.5],
    ['b', 0.5],
  ])

  it('by the mean of a Beta distribution: 0.9 with the weight of ten, one miss, is 9 ÷ 11', () => {
    expect(learnt(0.9, 10, 0, 1)).toBeCloseTo(9 / 11, 12)
  })

  it('two faults in a block out of two make ½ into (10·½ + 2) ÷ 12, and the shares still sum to one', () => {
    const shares = sharpened(equal, [closed('a'), closed('a')])
    expect(shares.get('a')).toBeCloseTo(7 / 12, 12)
    expect((shares.get('a') ?? 0) + (shares.get('b') ?? 0)).toBeCloseTo(1, 12)
  })

  it('a fault in a block that the design has no more teaches nothing', () => {
    expect(sharpened(equal, [closed('gone')])).toEqual(equal)
  })

  it('a check that was thought blind to a block and failed for it is so no more', () => {
    const catches = new Map([
      ['k', new Map([['a', 0.9]])],
      ['m', new Map<string, number>()],
    ])
    const taught = taughtCatches(catches, [closed('a', 30, { k: false, m: true })])
    expect(taught).toEqual([
      { check: 'k', block: 'a', share: 9 / 11 },
      { check: 'm', block: 'a', share: 1 / 11 },
    ])
  })

  it('minutes are drawn from the usual half hour towards what faults here took', () => {
    expect(minutesFor('a', [])).toBe(30)
    expect(minutesFor('a', [closed('a', 90)])).toBeCloseTo((3 * 45 + 90) / 4, 12)
    expect(minutesFor('b', [closed('a', 90)])).toBeCloseTo(45, 12)
  })
})
