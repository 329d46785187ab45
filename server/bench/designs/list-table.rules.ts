import { type ColumnWanted, readTable, type Table } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import type { Flaw } from './design.contract'

/** The table of one of a design's lists; each flaw says which list it is in. */
export function readListTable(
  list: Flaw['list'],
  source: Uint8Array | string,
  wanted: readonly ColumnWanted[],
  choice: TableChoice = {},
): { table: Table; flaws: Flaw[] } {
  const { table, flaws } = readTable(source, wanted, choice)
  return { table, flaws: flaws.map((flaw) => ({ list, ...flaw })) }
}
