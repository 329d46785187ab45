import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { JsonFault, readStrictJson } from '#kernel/strict-json'

const faultOf = (text: string): string => {
  try {
    readStrictJson(text)
    return 'none'
  } catch (reason) {
    if (reason instanceof JsonFault) return reason.message
    throw reason
  }
}

describe('JSON of which every reader makes the same', () => {
  it('is read as JSON.parse reads it, whatever it holds', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), fc.constantFrom(undefined, 1), (value, indent) => {
        const text = JSON.stringify(value, null, indent)
        const read: unknown = JSON.parse(text)
        const isOdd = /\\ud[89a-f]/i.test(text) || text.includes('__proto__') || hasUnsafe(read)
        if (!isOdd) expect(readStrictJson(text)).toEqual(read)
      }),
      { numRuns: 2000 },
    )
  })

  it.each([
    ['{"a":1,"a":1}', 'The name “a” stands twice in one object, at character 8.'],
    ['{"a":{"b":1},"c":[{"d":1,"\\u0064":2}]}', 'The name “d” stands twice in one object, at character 26.'],
    ['{"__proto__":1}', 'No house writes the name “__proto__”, at character 2.'],
    ['[1.0]', 'The number 1.0 is not spelt in the one way that is allowed, at character 2.'],
    ['[1e2]', 'The number 1e2 is not spelt'],
    ['[1E2]', 'The number 1E2 is not spelt'],
    ['[-0]', 'The number -0 is not spelt'],
    ['[01]', 'The number 01 is not spelt'],
    ['[0.10]', 'The number 0.10 is not spelt'],
    ['[9007199254740993]', 'The number 9007199254740993 is not spelt'],
    ['[9007199254740992]', 'The number 9007199254740992 is too great to be exact'],
    ['[1e+21]', 'The number 1e+21 is too great to be exact'],
    ['["\\ud800"]', 'A text in it is half a character, at character 2.'],
    ['[1,]', 'It is not JSON'],
    ['{"a":1,}', 'It is not JSON'],
    ['{"a" 1}', 'It is not JSON'],
    ['{} {}', 'There is something after its end, at character 4.'],
    ['["a\u0009"]', 'It is not JSON'],
    ['', 'It is not JSON'],
    ['['.repeat(100_000), 'It is nested deeper'],
  ])('refuses %s and says where', (text, words) => {
    expect(faultOf(text)).toContain(words)
  })

  it('takes what the house writes: numbers with decimals, small and great ones', () => {
    expect(readStrictJson(' {"a": [8.02, -1.5, 0, 1e-7, 9007199254740991], "b":"\\u00e9\\n𝄞"} ')).toEqual({
      a: [8.02, -1.5, 0, 1e-7, 9007199254740991],
      b: 'é\n𝄞',
    })
  })
})

function hasUnsafe(value: unknown): boolean {
  if (typeof value === 'number') return Object.is(value, -0) || (Number.isInteger(value) && !Number.isSafeInteger(value))
  return typeof value === 'object' && value !== null && Object.values(value).some(hasUnsafe)
}
