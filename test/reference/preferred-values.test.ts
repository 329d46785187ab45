import { describe, expect, test } from 'vitest'
import { SERIES, type SeriesName } from '#stock/catalogue/series.rules'
import published from './preferred-values.json'

const series = published.rows.filter((row): row is typeof row & { values: number[] } => row.series in SERIES)

const departures = published.rows.find((row) => row.series === 'E24-vs-formula')?.values as {
  index: number
  standard: number
  formula: number
}[]

describe('preferred numbers of IEC 60063:2015', () => {
  test.each(series)('$series holds the $count published values ($confidence)', (row) => {
    expect(row.values).toHaveLength(row.count)
    expect(SERIES[row.series as SeriesName]).toEqual(row.values)
  })

  test('seven series are checked, none is left out', () => {
    expect(series.map((row) => row.series)).toEqual(Object.keys(SERIES))
  })

  test.each([...SERIES.E24.entries()])('value %i of E24, %i, differs from the formula only where published', (index, standard) => {
    const odd = departures.find((each) => each.index === index)
    expect(standard).toBe(odd?.standard ?? Math.round(10 * 10 ** (index / 24)))
    if (odd) expect(Math.round(10 * 10 ** (index / 24))).toBe(odd.formula)
  })
})
