import { type ColumnWanted, guessesAsked, readTable, type Table, type TableFlaw } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import type { Flaw } from './design.contract'

/** The table of one of a design's lists; each flaw says which list it is in. `asked` are guesses that stop an import until somebody says that they are right. */
export function readListTable(
  list: Flaw['list'],
  source: Uint8Array | string,
  wanted: readonly ColumnWanted[],
  choice: TableChoice = {},
): { table: Table; flaws: Flaw[]; asked: Flaw[] } {
  const { table, flaws } = readTable(source, wanted, choice)
  const of = (some: readonly TableFlaw[]) => some.map((flaw) => ({ list, ...flaw }))
  return { table, flaws: of(flaws), asked: of(guessesAsked(table)) }
}
