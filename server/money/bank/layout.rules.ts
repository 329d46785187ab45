import { type ColumnWanted, readTable } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import type { DayOrder } from '#kernel/written-day'
import { BANK_COLUMNS } from './statement-file.rules'
import type { BankChoice } from './statement-questions.rules'

/** What a person said of a bank's files, and what holds for the next one too. */
export interface LayoutChoice extends Pick<TableChoice, 'columns' | 'delimiter' | 'encoding' | 'hasHeading'> {
  dayOrder?: DayOrder
  sign?: 'as it stands' | 'turned'
}

/** By what a bank's files are known again. */
export interface LayoutSigns {
  headings: string[]
  account: string
}

const MOST_JSON = 8000

/** What of a choice holds for every file of this bank; what was said of single lines does not. Null where nothing was said. */
export function layoutChoice({ columns, delimiter, encoding, hasHeading, dayOrder, sign }: BankChoice): LayoutChoice | null {
  const said = Object.entries({ columns, delimiter, encoding, hasHeading, dayOrder, sign }).filter(([, value]) => value !== undefined)
  return said.length === 0 ? null : Object.fromEntries(said)
}

/**
 * The headings of a file and the one account that all its rows name, read in a given way. Null for a file that nothing tells
 * apart from another bank's: it has no heading and names no account.
 */
export function signsOf(
  source: Uint8Array | string,
  choice: LayoutChoice,
  wanted: readonly ColumnWanted[] = BANK_COLUMNS,
): (LayoutSigns & { choice: LayoutChoice }) | null {
  const { table } = readTable(source, wanted, choice)
  const named = new Set(table.rows.flatMap(({ cells }) => (cells.account ? [cells.account.replaceAll(/\s+/g, ' ').trim()] : [])))
  const [account = ''] = named.size === 1 ? [...named] : []
  const headings = table.columns.map(({ heading }) => heading)
  if (headings.length === 0 || account.length > 70 || (!table.hasHeading && account === '')) return null
  const { delimiter, hasHeading } = table
  const whole = { ...choice, delimiter, hasHeading, columns: table.columns.map(({ column }) => column ?? '') }
  const isShort = [headings, whole].every((one) => JSON.stringify(one).length <= MOST_JSON)
  return isShort ? { headings, account, choice: whole } : null
}

export const areSigns = (one: LayoutSigns, other: LayoutSigns): boolean =>
  one.account === other.account && JSON.stringify(one.headings) === JSON.stringify(other.headings)
