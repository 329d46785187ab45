import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { byDesignator, classOf, collapseDesignators, findDoubles, readDesignators } from '#stock/catalogue/designator.rules'

describe('designators are expanded', () => {
  test.each([
    ['R1-R4, R7', 'R1 R2 R3 R4 R7'],
    ['R1–R4;R7', 'R1 R2 R3 R4 R7'],
    ['R1 - R4', 'R1 R2 R3 R4'],
    ['R1-4', 'R1 R2 R3 R4'],
    ['R1..R3', 'R1 R2 R3'],
    ['R1 to R3', 'R1 R2 R3'],
    ['r1,r2', 'R1 R2'],
    ['Ｒ１－Ｒ３', 'R1 R2 R3'],
    ['R17A', 'R17A'],
    ['U5', 'U5'],
    ['R5-R5', 'R5'],
    ['C1\nC2 C3', 'C1 C2 C3'],
  ])('%s', (text, expanded) => {
    expect(readDesignators(text)).toEqual({ designators: expanded.split(' '), problems: [] })
  })

  test.each([
    ['', 'No designators are given. Write them like R1-R4, R7.'],
    ['4k7', '"4K7" is not a designator. Write it like R7, or a range like R1-R4.'],
    ['R0', '"R0" is not a designator. Write it like R7, or a range like R1-R4.'],
    ['R', '"R" is not a designator. Write it like R7, or a range like R1-R4.'],
    ['R1-C4', '"R1-C4" runs from R to C. A range keeps its letters.'],
    ['R4-R1', '"R4-R1" runs backwards. Write R1-R4.'],
    ['R1-R501', '"R1-R501" is 501 positions; at most 500 fit in one range.'],
    ['R1, R1-R2', 'R1 is written twice.'],
    ['R-1', '"R-1" is not a designator. Write it like R7, or a range like R1-R4.'],
  ])('%s is not, and the words say why', (text, words) => {
    expect(readDesignators(text).problems).toEqual([words])
  })

  test('a range of exactly 500 is read', () => {
    expect(readDesignators('R1-R500').designators).toHaveLength(500)
  })

  test('a good part of a bad list is still read, so that the page can show both', () => {
    expect(readDesignators('R1, ??, R2')).toMatchObject({ designators: ['R1', 'R2'], problems: [expect.stringContaining('"??"')] })
  })
})

test('designators stand in the order of their numbers', () => {
  expect(['R10', 'C2', 'R2', 'R2A', 'C10', 'R1'].sort(byDesignator)).toEqual(['C2', 'C10', 'R1', 'R2', 'R2A', 'R10'])
})

test('three in a row are written as a range, two are not', () => {
  expect(collapseDesignators(['R4', 'R2', 'R1', 'R3', 'R7', 'R8', 'C1'])).toBe('C1, R1-R4, R7, R8')
  expect(collapseDesignators(['R1', 'R1A', 'R2', 'R3', 'R4'])).toBe('R1, R1A, R2-R4')
})

test('what is collapsed is expanded to the same', () => {
  const designator = fc
    .tuple(fc.constantFrom('R', 'C', 'U'), fc.integer({ min: 1, max: 60 }))
    .map(([letters, number]) => `${letters}${number}`)
  fc.assert(
    fc.property(fc.uniqueArray(designator, { minLength: 1 }), (designators) => {
      expect(readDesignators(collapseDesignators(designators))).toEqual({ designators: [...designators].sort(byDesignator), problems: [] })
    }),
  )
})

test('a designator used on two lines of a parts list is found, with the lines', () => {
  const lines = [
    { line: 2, designators: ['R1', 'R2'] },
    { line: 5, designators: ['R2', 'R3'] },
  ]
  expect(findDoubles(lines)).toEqual([{ designator: 'R2', lines: [2, 5] }])
})

test('the class of a designator says what a value there measures', () => {
  expect(classOf('R12')).toMatchObject({ kind: 'resistor', unit: 'Ω' })
  expect(classOf('C3')).toMatchObject({ kind: 'capacitor', unit: 'F' })
  expect(classOf('Y1')).toMatchObject({ kind: 'crystal', unit: 'Hz' })
  expect(classOf('U5')?.unit).toBeUndefined()
  expect(classOf('ZZ1')).toBeUndefined()
  expect(classOf('nonsense')).toBeUndefined()
})
