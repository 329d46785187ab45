import { describe, expect, test } from 'vitest'
import { classOf } from '#stock/catalogue/designator.rules'
import published from './reference-designators.json'

/** "nonconforming for U" and "JP … (use J)" name the letters that the standard asks for. */
const insteadOf = (meaning: string) => /nonconforming for ([A-Z]+)/.exec(meaning)?.[1] ?? /\(use ([A-Z]+)\)/.exec(meaning)?.[1]

describe('class letters of IEEE 315 and ASME Y14.44', () => {
  const own = published.rows.filter((row) => !/nonconforming for/.test(row.meaning) && row.letters !== 'XF')
  test.each(own)('$letters is a $meaning ($confidence)', ({ letters, meaning }) => {
    // The first noun of the published meaning must stand in ours.
    const noun = /[a-z]+/.exec(meaning.replace(/^resettable |^miscellaneous /, ''))?.[0] ?? ''
    expect(classOf(`${letters}1`)?.meaning).toContain(noun)
  })

  const nonconforming = published.rows.filter((row) => insteadOf(row.meaning) !== undefined)
  test.each(nonconforming)('$letters does not conform: $meaning', ({ letters, meaning }) => {
    expect(classOf(`${letters}1`)?.instead).toBe(insteadOf(meaning))
  })

  test('what the standard names in passing is known as well', () => {
    expect(classOf('SW1')?.instead).toBe('S')
    expect(classOf('CF1')?.instead).toBe('FL')
    expect(classOf('FB1')?.instead).toBe('E')
    expect(classOf('XU5')?.meaning).toBe('socket or holder for U')
    expect(classOf('XF1')?.meaning).toBe('socket or holder for F')
  })

  test('what the standard allows is not corrected', () => {
    for (const letters of ['R', 'C', 'L', 'D', 'CR', 'DS', 'Q', 'U', 'J', 'P', 'S', 'Y', 'MP']) {
      expect(classOf(`${letters}1`)).toMatchObject({ letters })
      expect(classOf(`${letters}1`)?.instead).toBeUndefined()
    }
  })
})
