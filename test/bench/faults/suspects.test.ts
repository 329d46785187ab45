import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Catches, catchesOf, withCatches } from '#bench/faults/catch.rules'
import { doubtIn, splitOf } from '#bench/faults/information.rules'
import { chanceOfFailure, ODDS_OF_TWO, type Seen, suspect, update } from '#bench/faults/suspects.rules'
import { CHECKS, FEEDS } from '../units/make'

const table = (rows: Record<string, Record<string, number>>): Catches =>
  new Map(Object.entries(rows).map(([check, row]) => [check, new Map(Object.entries(row))]))
const equal = (...blocks: string[]) => new Map(blocks.map((block) => [block, 1 / blocks.length]))
const failed = (check: string): Seen => ({ check, failed: true })
const passed = (check: string): Seen => ({ check, failed: false })

describe('the catch of a check', () => {
  const blocks = ['assembly', 'supply', 'rail', 'oscillator', 'audio', 'whole unit']
  const catches = catchesOf({ checks: CHECKS, feeds: FEEDS, blocks, fitted: new Set(blocks) })

  it('is nine in ten for its own block and, with power on, for everything that feeds it', () => {
    expect(Object.fromEntries(catches.get('O1') ?? [])).toEqual({ oscillator: 0.9, rail: 0.9, supply: 0.9, assembly: 0.9 })
  })

  it('is nothing for what feeds it while the power is off', () => {
    expect(Object.fromEntries(catches.get('K1') ?? [])).toEqual({ supply: 0.9 })
  })

  it('is a half for the fitted loads of a current, a ripple or a rail', () => {
    expect(Object.fromEntries(catches.get('P1') ?? [])).toEqual({ supply: 0.9, assembly: 0.9, rail: 0.5, oscillator: 0.5, audio: 0.5 })
    const bare = catchesOf({ checks: CHECKS, feeds: FEEDS, blocks, fitted: new Set(['supply', 'rail']) })
    expect(Object.fromEntries(bare.get('R2') ?? [])).toEqual({ rail: 0.9, supply: 0.9, assembly: 0.9 })
  })

  it('can be set for one check and one block, and leaves the rest as it was', () => {
    const set = withCatches(catches, [{ check: 'O1', block: 'rail', share: 0.2 }])
    expect(set.get('O1')?.get('rail')).toBe(0.2)
    expect(set.get('A1')?.get('rail')).toBe(0.9)
    expect(catches.get('O1')?.get('rail')).toBe(0.9)
  })
})

describe('suspicion, worked by hand', () => {
  // Two blocks, a check of the second that the first feeds: prior ½ and ½, catch 0.9 for both; and one of the first alone.
  const catches = table({ far: { a: 0.9, b: 0.9 }, near: { a: 0.9 } })

  it('a pass of the near check makes its block less likely and clears it not: ½·0.1 against ½·1 is 1 in 11', () => {
    const { shares } = suspect(equal('a', 'b'), [failed('far'), passed('near')], catches)
    expect(shares.get('a')).toBeCloseTo(1 / 11, 12)
    expect(shares.get('b')).toBeCloseTo(10 / 11, 12)
  })

  it('a failure of the near check leaves one explanation', () => {
    expect(suspect(equal('a', 'b'), [failed('far'), failed('near')], catches).shares.get('a')).toBeCloseTo(1, 12)
  })

  it('a prior of 3 to 1 and one pass with catch 0.9 end at 3·0.1 to 1', () => {
    const prior = new Map([
      ['a', 0.75],
      ['b', 0.25],
    ])
    expect(suspect(prior, [passed('near')], catches).shares.get('a')).toBeCloseTo(0.3 / 1.3, 12)
  })

  it('a check that halves equal suspects tells one bit with catch 1, and 0.531 bits with catch 0.89 on both sides of a coin', () => {
    const four = ['a', 'b', 'c', 'd'].map((block) => ({ blocks: [block], weight: 0.25 }))
    expect(splitOf('half', four, table({ half: { a: 1, b: 1 } }))).toEqual({ fails: 0.5, bits: 1 })
    // A binary symmetric channel of error 0.1 carries 1 − H(0.1) = 0.5310 bits (MacKay 2003, section 9.6).
    const two = four.slice(0, 2).map((one) => ({ ...one, weight: 0.5 }))
    expect(splitOf('coin', two, table({ coin: { a: 0.9, b: 0.1 } })).bits).toBeCloseTo(0.531, 4)
  })
})

describe('two faults at once', () => {
  const apart = table({ left: { a: 1 }, right: { b: 1 }, third: { c: 1 }, both: { a: 0.9, b: 0.9, c: 0.9 } })

  it('are recognised when no block explains both failures, and the pair is named', () => {
    const { faults, shares, suspicions } = suspect(equal('a', 'b', 'c'), [failed('left'), failed('right')], apart)
    expect(faults).toBe('two')
    expect(shares.get('a')).toBeCloseTo(1, 12)
    expect(shares.get('b')).toBeCloseTo(1, 12)
    expect(suspicions.filter(({ weight }) => weight > 0)).toEqual([{ blocks: ['a', 'b'], weight: 1 }])
  })

  it('are said to be likelier when one could explain it and hardly does', () => {
    // s feeds both and five checks of s passed: 0.1⁵ against one chance in twenty of a pair.
    const shared = table({
      left: { a: 0.9, s: 0.9 },
      right: { b: 0.9, s: 0.9 },
      ...Object.fromEntries([1, 2, 3, 4, 5].map((n) => [`s${n}`, { s: 0.9 }])),
    })
    const seen = [failed('left'), failed('right'), ...[1, 2, 3, 4, 5].map((n) => passed(`s${n}`))]
    const { faults, shares } = suspect(equal('a', 'b', 's'), seen, shared)
    expect(faults).toBe('two likelier')
    const one = (1 / 3) * 0.9 ** 2 * 0.1 ** 5
    const ab = (ODDS_OF_TWO / 3) * 0.9 ** 2
    const withS = (ODDS_OF_TWO / 3) * 0.99 * 0.9 * 0.1 ** 5
    const total = one + ab + 2 * withS
    expect(shares.get('s')).toBeCloseTo((one + 2 * withS) / total, 12)
    expect(shares.get('a')).toBeCloseTo((ab + withS) / total, 12)
  })

  it('are not tried while one explains everything', () => {
    expect(suspect(equal('a', 'b', 'c'), [failed('both'), passed('left')], apart).faults).toBe('one')
  })

  it('when not even two explain it, that is said and everything that could have failed stays suspect', () => {
    const { faults, shares } = suspect(equal('a', 'b', 'c', 'd'), [failed('left'), failed('right'), failed('third')], apart)
    expect(faults).toBe('more')
    expect(shares.get('a')).toBeCloseTo(1 / 3, 12)
    expect(shares.get('d') ?? 0).toBe(0)
  })
})

const BLOCKS = ['a', 'b', 'c', 'd']
const arbCatches = fc
  .array(fc.tuple(...BLOCKS.map(() => fc.integer({ min: 0, max: 20 }).map((share) => share / 20))), { minLength: 1, maxLength: 5 })
  .map((rows) =>
    table(Object.fromEntries(rows.map((row, n) => [`k${n}`, Object.fromEntries(row.map((share, i) => [BLOCKS[i] ?? '', share]))]))),
  )
const arbPrior = fc
  .tuple(...BLOCKS.map(() => fc.integer({ min: 1, max: 20 })))
  .map((weights) => new Map(weights.map((weight, i) => [BLOCKS[i] ?? '', weight / weights.reduce((a, b) => a + b, 0)])))

describe('for any checks and any suspects', () => {
  it('the suspicion is what counting through every possible world gives', () => {
    fc.assert(
      fc.property(arbCatches, arbPrior, fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }), (catches, prior, outcomes) => {
        const checks = [...catches.keys()]
        // Brute force: every world is a faulty block and an answer of every check; keep those that agree with what was seen.
        const kept = new Map<string, number>()
        for (const [block, weight] of prior) {
          for (let world = 0; world < 2 ** checks.length; world++) {
            const says = checks.map((_, n) => Math.floor(world / 2 ** n) % 2 === 1)
            const chance = checks.reduce((product, check, n) => {
              const fails = catches.get(check)?.get(block) ?? 0
              return product * (says[n] ? fails : 1 - fails)
            }, weight)
            if (says.every((said, n) => said === outcomes[n])) kept.set(block, (kept.get(block) ?? 0) + chance)
          }
        }
        const total = [...kept.values()].reduce((sum, one) => sum + one, 0)
        const seen = checks.map((check, n) => ({ check, failed: outcomes[n] === true }))
        const singles = [...prior].map(([block, weight]) => ({ blocks: [block], weight }))
        const answer = update(singles, seen, catches)
        if (total === 0) expect(answer).toBeNull()
        else for (const { blocks, weight } of answer ?? []) expect(weight).toBeCloseTo((kept.get(blocks[0] ?? '') ?? 0) / total, 7)
      }),
    )
  })

  it('the order in which things were seen does not matter, nor whether they are weighed at once or one by one', () => {
    fc.assert(
      fc.property(arbCatches, arbPrior, fc.boolean(), (catches, prior, fails) => {
        const seen = [...catches.keys()].map((check, n) => ({ check, failed: n === 0 ? fails : n % 2 === 0 }))
        const singles = [...prior].map(([block, weight]) => ({ blocks: [block], weight }))
        const atOnce = update(singles, seen, catches)
        const turned = [...seen].reverse().reduce<ReturnType<typeof update>>((now, one) => now && update(now, [one], catches), singles)
        expect(turned === null).toBe(atOnce === null)
        for (const [n, { weight }] of (atOnce ?? []).entries()) expect(turned?.[n]?.weight).toBeCloseTo(weight, 9)
      }),
    )
  })

  it('the bits of a check are the doubt that its answer takes away on average, and never less than none', () => {
    fc.assert(
      fc.property(arbCatches, arbPrior, (catches, prior) => {
        const singles = [...prior].map(([block, weight]) => ({ blocks: [block], weight }))
        for (const check of catches.keys()) {
          const { fails, bits } = splitOf(check, singles, catches)
          const after = [true, false].map((answer) => doubtIn(update(singles, [{ check, failed: answer }], catches) ?? []))
          expect(bits).toBeCloseTo(doubtIn(singles) - fails * (after[0] ?? 0) - (1 - fails) * (after[1] ?? 0), 9)
          expect(bits).toBeGreaterThanOrEqual(0)
        }
      }),
    )
  })

  it('a pass never makes a block that the check sees best more suspect, a failure never less', () => {
    fc.assert(
      fc.property(arbCatches, arbPrior, (catches, prior) => {
        const singles = [...prior].map(([block, weight]) => ({ blocks: [block], weight }))
        for (const check of catches.keys()) {
          const best = Math.max(...BLOCKS.map((block) => chanceOfFailure(check, [block], catches)))
          const at = BLOCKS.findIndex((block) => chanceOfFailure(check, [block], catches) === best)
          const before = singles[at]?.weight ?? 0
          expect(update(singles, [passed(check)], catches)?.[at]?.weight ?? before).toBeLessThanOrEqual(before + 1e-9)
          expect(update(singles, [failed(check)], catches)?.[at]?.weight ?? before).toBeGreaterThanOrEqual(before - 1e-9)
        }
      }),
    )
  })
})
