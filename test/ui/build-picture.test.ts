import { expect, test } from 'vitest'
import { MOST_COLUMNS, MOST_LACKS, shownOf } from '#app/(bench)/bench/parts/build/shown.rules.ts'
import type { BuildPage } from '#bench/buildable/build.service'

type Design = BuildPage['designs'][number]
const nothing = { there: 0, instead: 0, onItsWay: 0, promised: 0, missing: 0 }

/** A design of so many lines, of which each unit lacks those named and has nothing fitted. */
function designOf(lines: number, lacking: Record<string, number[]>): Design {
  const columns = Array.from({ length: lines }, (_, n) => ({ lineId: `line-${n}`, designators: [`R${n}`], quantity: 1, instead: [] }))
  const units = Object.entries(lacking).map(([tag, lacks]) => ({
    unitId: tag,
    tag,
    lines: columns.map(({ lineId }, n) => ({ ...nothing, lineId, partId: lineId, ...(lacks.includes(n) ? { missing: 1 } : { there: 1 }) })),
  }))
  return { designId: 'one', name: 'Tidemill', columns, units } as unknown as Design
}
const names = (columns: { lineId: string }[]) => columns.map(({ lineId }) => lineId)

test('a board whose lines fit is drawn whole, in the order of its list', () => {
  const { columns, left, units } = shownOf(designOf(MOST_COLUMNS, { 'WREN-01': [3] }))
  expect(columns).toHaveLength(MOST_COLUMNS)
  expect(left).toBe(0)
  expect(units[0]?.cells[3]).toMatchObject({ lineId: 'line-3', missing: 1 })
  expect(names(units[0]?.lacks.map(({ column }) => column) ?? [])).toEqual(['line-3'])
})

test('of thousands of lines those are drawn that units wait for, and each unit names the first of what it lacks', () => {
  const many = Array.from({ length: 500 }, (_, n) => 100 + n)
  const { columns, left, units } = shownOf(designOf(3000, { 'WREN-01': [2999, ...many], 'WREN-02': [2999] }))
  expect(columns).toHaveLength(MOST_COLUMNS)
  expect(left).toBe(3000 - MOST_COLUMNS)
  expect(names(columns).slice(0, 2)).toEqual(['line-100', 'line-101'])
  expect(names(columns).at(-1)).toBe('line-2999')
  expect(units.map(({ cells }) => cells.length)).toEqual([MOST_COLUMNS, MOST_COLUMNS])
  expect(units.map(({ lacks, more }) => [lacks.length, more])).toEqual([
    [MOST_LACKS, 501 - MOST_LACKS],
    [1, 0],
  ])
})
