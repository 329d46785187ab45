import { describe, expect, it } from 'vitest'
import { readLimit } from '#bench/designs/limits.rules'

const at = (cell: string, side: 'lower' | 'upper', nominal: string | null = '8.00') => {
  const answer = readLimit(cell, side, nominal === null ? null : { text: nominal, value: Number(nominal) })
  return answer.ok ? answer.limit : answer.words
}

describe('a limit', () => {
  it.each([
    ['4.75', 'lower', '5.0', { value: 4.75, decimals: 2, as: null }],
    ['-5 %', 'lower', '8.00', { value: 7.6, decimals: 1, as: '−5 %' }],
    ['+2.5%', 'upper', '8.00', { value: 8.2, decimals: 1, as: '+2.5 %' }],
    ['±50 ppm', 'upper', '455.0', { value: 455.02275, decimals: 5, as: '+50 ppm' }],
    ['±50 PPM', 'lower', '455.0', { value: 454.97725, decimals: 5, as: '−50 ppm' }],
    ['+/-1 %', 'upper', '0.10', { value: 0.101, decimals: 3, as: '+1 %' }],
    ['−5 %', 'lower', '-12.0', { value: -12.6, decimals: 1, as: '−5 %' }],
    ['2,5', 'upper', '2', { value: 2.5, decimals: 1, as: null }],
  ] as const)('%s on the %s side of %s', (cell, side, nominal, expected) => {
    expect(at(cell, side, nominal)).toEqual(expected)
  })

  it('may be left open', () => expect(at('  ', 'upper')).toBeNull())

  it.each([
    ['5 %', 'Write how far it is off the nominal, with a sign, such as -5 %.'],
    ['-5 %%', 'is not a limit'],
    ['1e3', 'is not a limit'],
    ['five', 'is not a limit'],
  ])('%s is refused with what to write', (cell, words) => expect(at(cell, 'lower')).toContain(words))

  it.each([null, '0', '0.0'])('off a nominal of %s there is nothing to be off', (nominal) => {
    expect(at('-5 %', 'lower', nominal)).toContain('Write the nominal, or a figure here.')
  })

  it('keeps no noise of binary fractions', () => expect(at('±10 %', 'upper', '0.3')).toEqual({ value: 0.33, decimals: 2, as: '+10 %' }))
})
