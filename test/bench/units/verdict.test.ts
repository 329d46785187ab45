import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { doubtOf, likelyResolution } from '#bench/units/doubt.rules'
import { cannotDecide, decideVerdict, isPass, probabilityOfConformity, uncertaintyOf } from '#bench/units/verdict.rules'

const LIMITS = { lower: 4.75, upper: 5.25 }

describe('the verdict', () => {
  it('simple: a reading on its limit passes, one millivolt over fails', () => {
    expect(decideVerdict(5.249, LIMITS, 'simple', 0.05)).toBe('pass')
    expect(decideVerdict(5.25, LIMITS, 'simple', 0.05)).toBe('pass')
    expect(decideVerdict(5.251, LIMITS, 'simple', 0.05)).toBe('fail')
    expect(decideVerdict(4.749, LIMITS, 'simple', 0.05)).toBe('fail')
  })

  it('guarded: the limits are drawn in by the doubt', () => {
    expect(decideVerdict(5.2, LIMITS, 'guarded', 0.05)).toBe('pass')
    expect(decideVerdict(4.8, LIMITS, 'guarded', 0.05)).toBe('pass')
    expect(decideVerdict(5.201, LIMITS, 'guarded', 0.05)).toBe('fail')
    expect(decideVerdict(4.799, LIMITS, 'guarded', 0.05)).toBe('fail')
  })

  it('guarded with doubt: four answers', () => {
    const verdict = (value: number) => decideVerdict(value, LIMITS, 'guarded-with-doubt', 0.05)
    expect([5.2, 5.201, 5.25, 5.251, 5.3, 5.301].map(verdict)).toEqual([
      'pass',
      'pass within doubt',
      'pass within doubt',
      'fail within doubt',
      'fail within doubt',
      'fail',
    ])
  })

  it('an open side is never failed on', () => {
    expect(decideVerdict(1e9, { lower: 0.5, upper: null }, 'guarded', 1)).toBe('pass')
    expect(decideVerdict(-1e9, { lower: null, upper: 30 }, 'guarded-with-doubt', 1)).toBe('pass')
  })

  it('without doubt the three rules agree', () => {
    fc.assert(
      fc.property(fc.double({ min: 4, max: 6, noNaN: true }), (value) => {
        const simple = isPass(decideVerdict(value, LIMITS, 'simple', 0))
        expect(isPass(decideVerdict(value, LIMITS, 'guarded', 0))).toBe(simple)
        expect(isPass(decideVerdict(value, LIMITS, 'guarded-with-doubt', 0))).toBe(simple)
      }),
    )
  })

  it('guarded never passes what simple fails, and a pass within doubt is exactly what lies between', () => {
    fc.assert(
      fc.property(fc.double({ min: 4, max: 6, noNaN: true }), fc.double({ min: 0, max: 0.4, noNaN: true }), (value, doubt) => {
        const simple = decideVerdict(value, LIMITS, 'simple', doubt) === 'pass'
        const guarded = decideVerdict(value, LIMITS, 'guarded', doubt) === 'pass'
        const four = decideVerdict(value, LIMITS, 'guarded-with-doubt', doubt)
        expect(guarded && !simple && value > LIMITS.lower && value < LIMITS.upper).toBe(false)
        expect(four === 'pass').toBe(guarded)
        expect(four === 'pass within doubt').toBe(simple && !guarded)
      }),
    )
  })
})

describe('doubt', () => {
  it('is 1.15 of the half-width with k = 2', () => {
    expect(uncertaintyOf(0.05).standard).toBeCloseTo(0.0288675, 7)
    expect(uncertaintyOf(1).expanded).toBeCloseTo(1.1547, 4)
  })

  it('as wide as the tolerance means that the instrument cannot decide', () => {
    expect(cannotDecide(LIMITS, 0.249)).toBe(false)
    expect(cannotDecide(LIMITS, 0.25)).toBe(true)
    expect(cannotDecide({ lower: 0.5, upper: null }, 100)).toBe(false)
  })

  it('of a check on which nothing was read yet is told for a figure more than its limits have', () => {
    // ±(0.5 % + 2 digits) near 12 V with limits written as 11.7 and 12.3: half-width 0.06 + 0.02, expanded 1.1547 of it.
    const meter = { name: 'Meter', accuracy: '±(0.5 % + 2 digits); 6000 counts', isOverdue: false }
    const doubt = doubtOf({ value: 12, resolution: likelyResolution({ decimals: 1 }) }, { unit: 'V' }, meter)
    expect(doubt).toMatchObject({ expanded: expect.closeTo(0.09238, 4) })
  })

  it('a reading on a limit is as likely right as wrong', () => {
    expect(probabilityOfConformity(5.25, 0.01, LIMITS)).toBeCloseTo(0.5, 9)
    expect(probabilityOfConformity(5, 0, LIMITS)).toBe(1)
    expect(probabilityOfConformity(6, 0, LIMITS)).toBe(0)
  })
})
