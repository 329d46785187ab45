import { describe, expect, test } from 'vitest'
import { plotSweep, saySweep } from '#app/_ui/sweep-chart.rules.ts'
import { readSweep } from '#bench/units/sweep.rules'

const read = (text: string) => {
  const found = readSweep(text)
  if (!found.ok) throw new Error(found.words)
  return found.sweep
}

describe('the table of a sweep, as instruments save it', () => {
  test('remarks and a heading above it, points or commas in the figures, a mark at the end of each line', () => {
    const plain = read('# Generator sweep\n# 2027-03-12\nFrequency (Hz),Gain (dB),Phase (deg)\n100,0.1,-1\n1000,0,-9\n10000,-3.01,-45\n')
    expect(plain).toMatchObject({ across: 'Frequency (Hz)', rows: 3, at: [100, 1000, 10000] })
    expect(plain.lines).toEqual([
      { name: 'Gain (dB)', values: [0.1, 0, -3.01] },
      { name: 'Phase (deg)', values: [-1, -9, -45] },
    ])
    const commas = read('Zeit;Pegel;\r\n0,5;1,25;\r\n1,0;1,5;\r\n1,5;-2e-3;\r\n')
    expect(commas).toMatchObject({
      across: 'Zeit',
      isByDecades: false,
      at: [0.5, 1, 1.5],
      lines: [{ name: 'Pegel', values: [1.25, 1.5, -0.002] }],
    })
    expect(read('1\t2\n3\t4\n2\t9').at).toEqual([1, 2, 3])
  })

  test('frequencies over decades are drawn by decades, equal steps are not', () => {
    const decades = Array.from({ length: 31 }, (_, at) => `${10 ** (1 + at / 10)},${-at}`).join('\n')
    expect(read(decades).isByDecades).toBe(true)
    const plot = plotSweep(read(decades))
    expect(plot.across.map(({ shown }) => shown)).toEqual(['10', '100', '1000', '10 k'])
    expect(plot.lines[0]?.points[10]?.[0]).toBeCloseTo(100 / 3, 6)
    expect(read(Array.from({ length: 300 }, (_, at) => `${at + 1},${at}`).join('\n')).isByDecades).toBe(false)
  })

  test('of ten thousand rows few are drawn, and the one peak is among them', () => {
    const rows = Array.from({ length: 10_000 }, (_, at) => `${at},${at === 7321 ? 99 : Math.sin(at / 50)}`)
    const sweep = read(rows.join('\n'))
    expect(sweep.rows).toBe(10_000)
    expect(sweep.at.length).toBeLessThanOrEqual(402)
    expect(sweep.lines[0]?.values[sweep.at.indexOf(7321)]).toBe(99)
    expect(saySweep(sweep)).toMatch(/^10000 points, across from 0 to 9999: column 2 from -1 .* to 99 \(at 7321\)\.$/)
  })

  test.each([
    ['', /not a table that can be drawn/],
    ['hello\nthere', /not a table that can be drawn/],
    ['a,b\n1,2\n2,3', /not a table that can be drawn/],
    ['1,2\n2,3\n3,4\n4,oops\n5,6', /Line 4 of the table does not have 2 numbers/],
    ['x'.repeat(600_000), /500 kB at most/],
  ])('what is none is refused in words: %j', (text, words) => {
    expect(readSweep(text)).toEqual({ ok: false, words: expect.stringMatching(words) })
  })
})
