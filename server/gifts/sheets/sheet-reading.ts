import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import type { EarlierIn } from '#bench/earlier/earlier.contract'
import { guessesAsked, readTable, type Table, type TableRow } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import { COLUMNS, leftOutOnPurpose } from './columns.rules'
import { readDonorsSheet, type SheetUnderstood } from './donors-sheet.rules'
import { readMachinesSheet } from './machines-sheet.rules'
import { type Notes, openNotes, refuseFormulas } from './notes.rules'
import type { PlanItem, SheetRead, SheetWhat } from './sheets.contract'
import { readShelfSheet, type ShelfFacts } from './shelf-sheet.rules'
import { isWorkbook, readWorkbook } from './workbook'

export interface SheetOrder {
  what: SheetWhat
  base64: string | null
  pasted: string | null
  choice: TableChoice
  answers: Readonly<Record<string, string>>
  facts: ShelfFacts & {
    earlier: readonly EarlierIn[]
    /** Digests of what was stored from sheets before. */
    stored: readonly string[]
  }
  /** Given by whoever stores what was read. */
  isToBeStored: boolean
}

export interface SheetReading extends SheetRead {
  /** What is to be stored, for whoever stores it; null while something is to be corrected or answered. */
  plan: PlanItem[] | null
  /** Of what the sheet itself says, so that it is known again. */
  content: string
}

/** So many rows and questions are sent to a screen; of the others it is told how many there are. */
const MOST_SHOWN = 400
const MOST_ASKED = 200

/** Reads a sheet as it comes, with what the house knows. It is read on another thread: see `sheet-reader.ts`. */
export async function readSheet({ what, base64, pasted, choice, answers, facts, isToBeStored }: SheetOrder): Promise<SheetReading> {
  const notes = openNotes(answers)
  const source = await sourceOf(base64, pasted, notes)
  const wanted = COLUMNS[what]
  const { table, flaws } = readTable(source, wanted, choice)
  if (notes.flaws.length === 0) notes.flaws.push(...flaws, ...guessesAsked(table))
  notes.notes.push(
    ...leftOutOnPurpose(
      what,
      table.columns.flatMap(({ column, heading }) => (column === null ? [heading] : [])),
    ),
  )
  const rows = table.rows
  refuseFormulas(notes, rows)
  const content = digestOf([what, rows.map(({ cells }) => cells)])
  const isReadable = flaws.length === 0 && rows.length > 0
  const read: SheetUnderstood = isReadable ? understand(what, rows, table, facts, notes) : { understood: new Map(), plan: [], summary: [] }
  if (isReadable && facts.stored.includes(content)) askAgain(notes)
  if (isReadable && read.plan.length === 0 && notes.flaws.length === 0)
    notes.flaw(0, '', 'There is nothing in it that is not here already.')
  const isDone = notes.flaws.length === 0 && notes.questions.every(({ answer }) => answer !== null)
  const { encoding, delimiter, hasHeading, columns } = table
  return {
    table: { encoding, delimiter, hasHeading, columns },
    count: rows.length,
    rows: isToBeStored ? [] : shownRows(rows, columns, read, notes),
    flaws: notes.flaws.sort((a, b) => a.line - b.line).slice(0, MOST_SHOWN),
    questions: openFirst(notes.questions).slice(0, MOST_ASKED),
    notes: [
      ...notes.notes,
      ...(notes.questions.length > MOST_ASKED ? [`And ${notes.questions.length - MOST_ASKED} more questions, which follow.`] : []),
    ],
    summary: read.summary,
    digest: isDone ? digestOf(read.plan) : null,
    plan: isDone && isToBeStored ? read.plan : null,
    content,
  }
}

async function sourceOf(base64: string | null, pasted: string | null, notes: Notes): Promise<Uint8Array | string> {
  if (base64 === null) return pasted ?? ''
  const bytes = new Uint8Array(Buffer.from(base64, 'base64'))
  return isWorkbook(bytes) ? readWorkbook(bytes, notes) : bytes
}

function understand(
  what: SheetWhat,
  rows: readonly TableRow[],
  { columns }: Table,
  facts: SheetOrder['facts'],
  notes: Notes,
): SheetUnderstood {
  if (what === 'donors') return readDonorsSheet(rows, facts, notes)
  if (what === 'shelf') return readShelfSheet(rows, facts, notes)
  const amountHeading = columns.find(({ column }) => column === 'raised')?.heading ?? ''
  return readMachinesSheet(rows, { ...facts, amountHeading }, notes)
}

const askAgain = (notes: Notes) =>
  notes.ask({
    key: 'stored before',
    words: 'A sheet that says the very same was stored here before. Store all of it once more?',
    options: [{ value: 'yes', label: 'Yes, once more' }],
  })

/** They keep their places, unless there are more than are shown: then what is not answered yet stands first. */
const openFirst = (questions: Notes['questions']) =>
  questions.length <= MOST_ASKED ? questions : [...questions].sort((a, b) => Number(a.answer !== null) - Number(b.answer !== null))

function shownRows(rows: readonly TableRow[], columns: Table['columns'], { understood }: SheetUnderstood, notes: Notes): SheetRead['rows'] {
  const flawed = new Set(notes.flaws.map(({ line }) => line))
  const taken = columns.flatMap(({ column }) => column ?? [])
  const isOdd = (row: TableRow) => flawed.has(row.line) || row.written !== undefined || notes.hintOf(row.line) !== null
  const shown = [...rows.filter(isOdd), ...rows.filter((row) => !isOdd(row))].slice(0, MOST_SHOWN).sort((a, b) => a.line - b.line)
  return shown.map(({ line, cells, written }) => ({
    line,
    understood: understood.get(line) ?? '',
    hint: notes.hintOf(line),
    cells: Object.fromEntries([...new Set([...taken, ...Object.keys(written ?? {})])].map((name) => [name, cells[name] ?? ''])),
    ...(written ? { written } : {}),
  }))
}

const digestOf = (said: unknown): string =>
  createHash('sha256')
    .update(canonicalize(said) ?? '')
    .digest('hex')
