import { describe, expect, test } from 'vitest'
import { type ColumnWanted, readTable } from '#kernel/table'
import { busyFor } from '#test/attacks/thread-time'
import { WORST_KINDS, worstText } from '#test/attacks/worst-texts'

const COLUMNS: ColumnWanted[] = [
  { name: 'part', also: ['name', 'article', 'Part no.'], isRequired: true },
  { name: 'quantity', also: ['qty', 'number of'], isRequired: false },
]
const flawOf = (text: string) => readTable(text, COLUMNS).flaws[0]?.words ?? null

test('a heading is known by its letters and figures, whatever stands between them', () => {
  const { table, flaws } = readTable('PART NO.;Qty.\n4k7;3\n', COLUMNS)
  expect(flaws).toEqual([])
  expect(table.columns.map(({ column }) => column)).toEqual(['part', 'quantity'])
  expect(table.rows[0]?.cells).toEqual({ part: '4k7', quantity: '3' })
})

test('five thousand rows are taken, more are refused in words', () => {
  const rows = (many: number) => `part,quantity\n${'4k7,3\n'.repeat(many)}`
  expect(readTable(rows(5000), COLUMNS).table.rows).toHaveLength(5000)
  expect(flawOf(rows(5001))).toContain('5000')
  expect(flawOf(rows(40_000))).toContain('more than 5000 rows')
})

test('a hundred columns are taken, more are refused at their row', () => {
  const wide = (many: number) => `part${',x'.repeat(many - 1)}\n4k7${',y'.repeat(many - 1)}\n`
  expect(flawOf(wide(100))).toBeNull()
  expect(flawOf(wide(101))).toBe('This row has 101 cells; at most 100 are taken.')
})

test('a row without end is refused, as when a quotation mark was left open', () => {
  expect(flawOf(`part,quantity\n"4k7,3\n${'10k,5\n'.repeat(10_000)}`)).toContain('Is a quotation mark left open')
})

describe('the largest list that is taken', () => {
  // A row of cells was compared with all that columns may be called, cell for cell: sixteen seconds for such a list.
  test.each(Array.from({ length: WORST_KINDS }, (_, kind) => [JSON.stringify(worstText(kind, 24)), kind] as const))(
    'of %s holds nobody up',
    async (_, kind) => {
      const text = worstText(kind, 300_000)
      expect(await busyFor(() => readTable(text, COLUMNS), 50)).toBeLessThan(50)
    },
  )
})
