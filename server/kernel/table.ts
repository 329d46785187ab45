import { CsvError, parse } from 'csv-parse/sync'
import { asWritten } from './csv'
import { decoded, type Encoding } from './encoding'
import type { DELIMITERS, TableChoice } from './table-in'
import { withoutHidden } from './text'

/** A column that a table may have: its name here, and other words that people use for it. */
export interface ColumnWanted {
  name: string
  also: string[]
  isRequired: boolean
  /** Columns of which any will do in place of this one. */
  orElse?: readonly string[]
  /** Why a column with a heading that nobody knows may be this one, by its heading and its first cells; null when it is not. The guess is asked about. */
  guess?(heading: string, cells: readonly string[]): string | null
}

export interface TableRow {
  line: number
  cells: Record<string, string>
  /** How the cells that were mended stand in the file. */
  written?: Record<string, string>
}

/** What is wrong with a table: where it is and what to do. Line 0 means the table as a whole. */
export interface TableFlaw {
  line: number
  column: string
  words: string
}

export interface Table {
  encoding: Encoding
  delimiter: (typeof DELIMITERS)[number]
  hasHeading: boolean
  /** Each heading as written, with the column it was taken for (null when it was left out), the first cell below it, and why, where that is a guess. */
  columns: { heading: string; column: string | null; sample: string; guess: string | null }[]
  rows: TableRow[]
}

const MARKS: Record<Table['delimiter'], string> = { comma: ',', semicolon: ';', tab: '\t', bar: '|' }
const MOST_ROWS = 5000
/** More columns than any list has, and a row as long as a hundred full cells: what is larger is looked at no further. */
const MOST_COLUMNS = 100
const MOST_IN_A_ROW = 20_000
const TOO_LONG = `A row has more than ${MOST_IN_A_ROW} characters. Is a quotation mark left open, or is it another kind of file?`
/** So many rows may stand above the heading: a title, a date, an empty line. */
const MOST_ABOVE = 10

/**
 * Reads a table from a file's bytes or from pasted text: encoding, delimiter and heading are found
 * out, columns are matched by name, unless `choice` says otherwise. Flaws say where and what to do.
 */
export function readTable(
  source: Uint8Array | string,
  wanted: readonly ColumnWanted[],
  choice: TableChoice = {},
): { table: Table; flaws: TableFlaw[] } {
  const { text: written, encoding } = decoded(source, choice.encoding)
  const text = withoutHidden(written)
  const delimiter = choice.delimiter ?? likeliestDelimiter(text, wanted)
  const table: Table = { encoding, delimiter, hasHeading: true, columns: [], rows: [] }
  const flaw = (line: number, column: string, words: string): TableFlaw => ({ line, column, words })
  if (text.trim() === '') return { table, flaws: [flaw(0, '', 'The list is empty. Choose a file, or paste the rows with their heading.')] }
  if (written.includes('\0')) return { table, flaws: [flaw(0, '', 'That is not a text file. Save it as CSV and choose it again.')] }
  // Before it is taken apart: a row of nothing but delimiters holds no characters that its reader counts.
  const long = text.split(/\r\n|\r|\n/).findIndex((line) => line.length > MOST_IN_A_ROW)
  if (long >= 0) return { table, flaws: [flaw(long + 1, '', TOO_LONG)] }
  const parsed = recordsOf(text, delimiter)
  if ('words' in parsed) return { table, flaws: [flaw(parsed.line, '', parsed.words)] }

  const wide = parsed.records.find(({ cells }) => cells.length > MOST_COLUMNS)
  if (wide) return { table, flaws: [flaw(wide.line, '', `This row has ${wide.cells.length} cells; at most ${MOST_COLUMNS} are taken.`)] }
  if (parsed.records.length > MOST_ROWS + MOST_ABOVE + 1)
    return {
      table,
      flaws: [flaw(0, '', `That is more than ${MOST_ROWS} rows, which is the most you can import at once. Import it in parts.`)],
    }
  const at = headingOf(parsed.records, wanted)
  const hasHeading = choice.hasHeading ?? !isRowOfCells(parsed.records[at]?.cells ?? [], wanted)
  const heading = parsed.records[at]
  const body = parsed.records.slice(hasHeading ? at + 1 : 0)
  table.hasHeading = hasHeading
  const found = (heading?.cells ?? []).map((one, index) => ({
    heading: hasHeading ? one : `column ${index + 1}`,
    column: choice.columns
      ? (wanted.find(({ name }) => name === choice.columns?.[index])?.name ?? null)
      : hasHeading
        ? columnFor(one, wanted)
        : null,
    sample: (body.find(({ cells }) => (cells[index] ?? '') !== '')?.cells[index] ?? '').slice(0, 40),
    guess: null,
  }))
  table.columns = choice.columns ? found : withGuesses(found, body, wanted)
  const flaws = columnFlaws(table, wanted, heading?.line ?? 1, flaw)
  if (body.length === 0) flaws.push(flaw(heading?.line ?? 1, '', 'There are no rows below the heading.'))
  if (body.length > MOST_ROWS) flaws.push(flaw(0, '', `That is ${body.length} rows; at most ${MOST_ROWS} are taken.`))
  if (flaws.length > 0) return { table, flaws }
  for (const { line, cells } of body) {
    if (cells.length > table.columns.length) {
      const words = `This row has ${cells.length} cells, the heading ${table.columns.length}. A cell with a ${delimiter} in it needs quotes around it.`
      flaws.push(flaw(line, '', words))
      continue
    }
    const named = table.columns.flatMap(({ column }, index) => (column === null ? [] : [[column, asWritten(cells[index] ?? '')] as const]))
    table.rows.push({ line, cells: { ...Object.fromEntries(wanted.map(({ name }) => [name, ''])), ...Object.fromEntries(named) } })
  }
  if (choice.mends) mend(table.rows, choice.mends)
  return { table, flaws }
}

/** What a column was guessed to be stops an import until somebody says that it is so. */
export const guessesAsked = ({ columns }: Table): TableFlaw[] =>
  columns.flatMap(({ heading, column, guess }) =>
    guess === null || column === null
      ? []
      : [
          {
            line: 0,
            column,
            words: `“${heading}” was taken for the ${column}: ${guess}. Is it so? Say yes below, or choose what it is.`,
          },
        ],
  )

function mend(rows: readonly TableRow[], mends: NonNullable<TableChoice['mends']>): void {
  const byLine = new Map(rows.map((row) => [row.line, row]))
  for (const { line, column, text } of mends) {
    const row = byLine.get(line)
    if (!row || row.cells[column] === undefined) continue
    row.written = { [column]: row.cells[column], ...row.written }
    row.cells[column] = asWritten(text)
  }
}

/** A first row that names no column, and holds what stands in one. */
const isRowOfCells = (cells: readonly string[], wanted: readonly ColumnWanted[]): boolean =>
  cells.every((cell) => columnFor(cell, wanted) === null) &&
  cells.some((cell) => cell !== '' && wanted.some(({ guess }) => guess?.('', [cell]) != null))

/** So many cells of a column are looked at for a guess. */
const LOOKED_AT = 60

/** What is left open by the headings, guessed: a column that nobody knows, by what stands in it; one of two for the same, by the better heading. */
function withGuesses(found: Table['columns'], body: Records['records'], wanted: readonly ColumnWanted[]): Table['columns'] {
  const columns = found.map((one) => ({ ...one }))
  if (!wanted.some(({ guess }) => guess)) return columns
  for (const { name } of wanted) {
    const [best, ...others] = columns
      .filter(({ column }) => column === name)
      .sort((a, b) => rankOf(a.heading, wanted) - rankOf(b.heading, wanted))
    if (!best || others.some(({ heading }) => rankOf(heading, wanted) === rankOf(best.heading, wanted))) continue
    for (const other of others) Object.assign(other, { column: null, guess: `“${best.heading}” was taken for the ${name} already` })
  }
  for (const { name, guess } of wanted) {
    if (!guess || columns.some(({ column }) => column === name)) continue
    for (const [index, one] of columns.entries()) {
      if (one.column !== null || one.guess !== null) continue
      const cells = body.slice(0, LOOKED_AT).flatMap(({ cells }) => (cells[index] ? [cells[index]] : []))
      const why = guess(one.heading, cells)
      if (why === null) continue
      Object.assign(one, { column: name, guess: why })
      break
    }
  }
  return columns
}

/** How near a heading is to the name of its column: the name itself, then the other words in their order. */
function rankOf(heading: string, wanted: readonly ColumnWanted[]): number {
  const said = bareWords(heading)
  const one = wanted.find(({ name, also }) => [name, ...also].some((word) => bareWords(word) === said))
  return one ? [one.name, ...one.also].findIndex((word) => bareWords(word) === said) : Number.POSITIVE_INFINITY
}

/** The row that holds most known headings, the first of equals. */
function headingOf(records: Records['records'], wanted: readonly ColumnWanted[]): number {
  const known = records.slice(0, MOST_ABOVE + 1).map(({ cells }) => cells.filter((cell) => columnFor(cell, wanted) !== null).length)
  return Math.max(0, known.indexOf(Math.max(...known)))
}

/** The one that makes most known columns out of one of the first lines; where none does, the one that stands most often in them. */
function likeliestDelimiter(text: string, wanted: readonly ColumnWanted[]): Table['delimiter'] {
  const first = text
    .slice(0, 20_000)
    .split(/\r\n|\r|\n/)
    .filter((line) => line.trim() !== '')
    .slice(0, MOST_ABOVE + 1)
  const known = (mark: string) =>
    Math.max(
      0,
      ...first.map((line) => line.split(mark, MOST_COLUMNS).filter((cell) => columnFor(cell.replaceAll('"', ''), wanted) !== null).length),
    )
  const often = (mark: string) => first.reduce((sum, line) => sum + line.split(mark).length - 1, 0)
  const names = Object.keys(MARKS) as Table['delimiter'][]
  return names.reduce((best, name) => {
    const [a, b] = [MARKS[name], MARKS[best]]
    return known(a) > known(b) || (known(a) === known(b) && known(a) === 0 && often(a) > often(b)) ? name : best
  }, 'comma')
}

interface Records {
  records: { line: number; cells: string[] }[]
}

function recordsOf(text: string, delimiter: Table['delimiter']): Records | { line: number; words: string } {
  try {
    const found = parse(text, {
      delimiter: MARKS[delimiter],
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
      max_record_size: MOST_IN_A_ROW,
      // One more than are taken, so that it shows.
      to: MOST_ROWS + MOST_ABOVE + 2,
      trim: true,
    }) as unknown as { record: string[]; info: { lines: number } }[]
    return { records: found.map(({ record, info }) => ({ line: info.lines, cells: record.map(asWritten) })) }
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    const line = typeof error.lines === 'number' ? error.lines : 0
    if (error.code === 'CSV_MAX_RECORD_SIZE') return { line, words: TOO_LONG }
    return { line, words: 'A quotation mark is open or in the wrong place. Quotes stand around a whole cell, and are doubled inside it.' }
  }
}

function columnFlaws(
  table: Table,
  wanted: readonly ColumnWanted[],
  line: number,
  flaw: (line: number, column: string, words: string) => TableFlaw,
): TableFlaw[] {
  const found = table.columns.map(({ column }) => column)
  const twice = wanted.filter(({ name }) => found.filter((one) => one === name).length > 1)
  const missing = wanted.filter(
    ({ name, isRequired, orElse = [] }) => isRequired && !found.includes(name) && !orElse.some((other) => found.includes(other)),
  )
  return [
    ...twice.map(({ name }) =>
      flaw(line, name, `Two columns were both taken for "${name}". Keep one, or give the other a different heading.`),
    ),
    ...missing.map(({ name, also }) => {
      const others = also.length > 0 ? ` (or ${also.slice(0, 3).join(', ')})` : ''
      return flaw(line, name, `There is no column "${name}"${others}. Add it to the heading.`)
    }),
  ]
}

/** A heading has no more characters than this. */
const MOST_HEADING = 100

function columnFor(heading: string, wanted: readonly ColumnWanted[]): string | null {
  if (heading.length > MOST_HEADING) return null
  const said = bareWords(heading)
  return said === '' ? null : (namesOf(wanted).get(said) ?? null)
}

/** Letters and figures alone, so that "Qty." and "qty" are one. */
const bareWords = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]/gu, '')

/** Each way in which a column may be headed, with its name: worked out once for each kind of table. */
const headings = new WeakMap<readonly ColumnWanted[], Map<string, string>>()

function namesOf(wanted: readonly ColumnWanted[]): Map<string, string> {
  const before = headings.get(wanted)
  if (before) return before
  const names = new Map<string, string>()
  for (const { name, also } of wanted) for (const one of [name, ...also]) if (!names.has(bareWords(one))) names.set(bareWords(one), name)
  headings.set(wanted, names)
  return names
}
