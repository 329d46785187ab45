import { stringify } from 'csv-stringify/sync'

/** What a spreadsheet takes for the beginning of a formula, in ASCII and as full-width forms. */
const FORMULA = '=+\\-@＝＋－＠|%'

// At the head of a cell, and behind whatever another spreadsheet's settings would split a cell at: `;`, a tab, a line's end.
const EDGE = '(?<=^|[;\\t\\r\\n])([ \\u00a0]*)'
const RUNS = new RegExp(`${EDGE}('*)(?=[${FORMULA}\\t\\r])`, 'g')
const KEPT = new RegExp(`${EDGE}'('*)(?=[${FORMULA}\\t\\r])`, 'g')

/** Text that no spreadsheet runs: an apostrophe goes before what would begin a formula. `asWritten` takes it away again. */
export const harmless = (text: string): string => text.replace(RUNS, "$1'$2")

/** The text as it was before `harmless`: for an import of what was exported here. */
export const asWritten = (text: string): string => text.replace(KEPT, '$1$2')

export type Cell = string | number | boolean | null | undefined

/**
 * A table as CSV (RFC 4180: commas, CRLF, quotes doubled), with a byte order mark so that spreadsheets read it as
 * UTF-8. Numbers stand as numbers, text is made harmless, nothing is an empty cell.
 */
export function writeCsv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const cells = rows.map((row) => row.map((cell) => (typeof cell === 'string' ? harmless(cell) : cell)))
  return stringify([head.map(harmless), ...cells], {
    bom: true,
    record_delimiter: '\r\n',
    quoted_match: /[;\t'\s]/,
    cast: { number: String, boolean: (value) => (value ? 'yes' : 'no') },
  })
}

/** A file for the browser to keep. */
export interface SavedFile {
  fileName: string
  type: string
  text: string
}

export const csvFile = (fileName: string, head: readonly string[], rows: readonly (readonly Cell[])[]): SavedFile => ({
  fileName,
  type: 'text/csv;charset=utf-8;header=present',
  text: writeCsv(head, rows),
})
