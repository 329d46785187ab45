import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { asWritten, harmless, writeCsv } from '#kernel/csv'

const FORMULA = /^[ \u00a0]*[=+\-@＝＋－＠|%\t\r]/

describe('a table that no spreadsheet runs', () => {
  test.each([
    ['=HYPERLINK("http://x.example";"win")'],
    ['+1+1'],
    ['-1+1'],
    ['@SUM(A1)'],
    ["=cmd|' /C calc'!A0"],
    ['\t=1+1'],
    ['\r=1+1'],
    ['  =1+1'],
    ['＝1+1'],
    ['|calc'],
    ['%0A=1+1'],
  ])('%j begins with an apostrophe', (text) => {
    const cell = harmless(text)
    expect(cell).not.toMatch(FORMULA)
    expect(parse(writeCsv(['head'], [[text]]), { bom: true })).toEqual([['head'], [cell]])
  })

  test('a cell that another delimiter would split has no formula behind it either', () => {
    expect(harmless('20 crystals;=1+1;-2')).toBe("20 crystals;'=1+1;'-2")
    expect(harmless('first\n=1+1')).toBe("first\n'=1+1")
    expect(harmless('first\t@x')).toBe("first\t'@x")
  })

  test('ordinary text stays as it is', () => {
    for (const text of ['4k7', 'R1-R4, R7', 'O’Hara', 'a = b', "it's", '10 µH', '']) expect(harmless(text)).toBe(text)
  })

  test('numbers stand as numbers, also below nought; nothing is empty; yes and no are words', () => {
    expect(writeCsv(['a', 'b', 'c', 'd'], [[-5, null, true, undefined]])).toBe('\ufeffa,b,c,d\r\n-5,,yes,\r\n')
  })

  test('commas, quotes and line ends are kept by quoting', () => {
    const row = ['a, b', 'said "no"', 'two\r\nlines', ' spaced ']
    expect(parse(writeCsv(['1', '2', '3', '4'], [row]), { bom: true })).toEqual([['1', '2', '3', '4'], row])
  })

  test('what was written can be read back as it was, whatever it is', () => {
    const nasty = fc.string({ unit: fc.constantFrom('=', '+', '-', '@', "'", ';', '\t', '\r', '\n', ' ', '"', ',', 'a', '＝', '|', '%') })
    fc.assert(
      fc.property(nasty, (text) => {
        expect(asWritten(harmless(text))).toBe(text)
        for (const part of harmless(text).split(/[;\t\r\n]/)) expect(part).not.toMatch(/^[ \u00a0]*[=+\-@＝＋－＠|%]/)
      }),
      { numRuns: 2000 },
    )
  })
})
