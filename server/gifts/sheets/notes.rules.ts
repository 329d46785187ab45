import type { Currency } from '#kernel/money'
import type { TableFlaw, TableRow } from '#kernel/table'
import { type DecimalMark, decimalMarkOf, readAmount } from '#kernel/written-amount'
import { type DayOrder, dayOrderOf, readDay } from '#kernel/written-day'
import type { SheetQuestion } from './sheets.contract'

/** What comes up while a sheet is read: what is wrong, what is asked, what is worth saying. */
export interface Notes {
  flaws: TableFlaw[]
  questions: SheetQuestion[]
  notes: string[]
  flaw(line: number, column: string, words: string): void
  hint(line: number, words: string): void
  hintOf(line: number): string | null
  /** Asks, and gives the answer if there is one that can be given. */
  ask(question: Omit<SheetQuestion, 'answer' | 'group' | 'typed'> & Partial<Pick<SheetQuestion, 'group' | 'typed'>>): string | null
}

export function openNotes(answers: Readonly<Record<string, string>>): Notes {
  const hints = new Map<number, string[]>()
  const flaws: TableFlaw[] = []
  const questions: SheetQuestion[] = []
  return {
    flaws,
    questions,
    notes: [],
    flaw: (line, column, words) => void flaws.push({ line, column, words }),
    hint: (line, words) => void hints.set(line, [...(hints.get(line) ?? []), words]),
    hintOf: (line) => hints.get(line)?.join(' ') ?? null,
    ask({ group = '', typed = null, ...question }) {
      const said = ownOf(answers, question.key) ?? ownOf(answers, allOf(group)) ?? ''
      const isTaken = question.options.some(({ value }) => value === said) || (typed !== null && mayBeTyped(typed.type, said))
      const answer = isTaken ? said : null
      questions.push({ ...question, group, typed, answer })
      return answer
    },
  }
}

const ownOf = (answers: Readonly<Record<string, string>>, key: string) => (Object.hasOwn(answers, key) ? answers[key] : undefined)

/** Under this key stands the answer to all questions of a group that have none of their own. */
export const allOf = (group: string): string => `all ${group}`

const mayBeTyped = (type: 'date' | 'text', said: string): boolean => (type === 'date' ? readDay(said, 'day first') === said : said !== '')

/** "in line 4", "in lines 4, 7 and 9", "in lines 4, 7, 9 and 12 more". */
export function inLines(lines: readonly number[]): string {
  const shown = lines.slice(0, 3)
  if (lines.length <= 1) return `in line ${shown[0] ?? 0}`
  if (lines.length <= 3) return `in lines ${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`
  return `in lines ${shown.join(', ')} and ${lines.length - shown.length} more`
}

export const counted = (many: number, one: string, more: string): string => `${many} ${many === 1 ? one : more}`

/** Days of one column: which of two numbers is the day is asked where no cell says it. */
export function readDays(notes: Notes, rows: readonly TableRow[], column: string, today: string): (row: TableRow) => string | null {
  const cells = rows.map(({ cells }) => cells[column] ?? '').filter(Boolean)
  const found = dayOrderOf(cells)
  const order = found === 'asked' || found === 'mixed' ? askOrder(notes, cells, column) : found === 'not needed' ? 'day first' : found
  return ({ line, cells: { [column]: written = '' } }) => {
    if (written === '') return null
    const day = readDay(written, order)
    if (day === null) {
      notes.flaw(line, column, `“${written.slice(0, 40)}” was not read as a day. Write it like 2024-05-14.`)
      return null
    }
    if (day <= today) return day
    notes.flaw(line, column, `“${written.slice(0, 40)}” was read as ${day}, which is still to come. Check the day.`)
    return null
  }
}

function askOrder(notes: Notes, cells: readonly string[], column: string): DayOrder {
  const sample = cells.find((cell) => readDay(cell, 'day first') !== readDay(cell, 'month first')) ?? ''
  const option = (value: DayOrder) => ({
    value,
    label: `The ${value.replace(' first', '')} stands first: ${readDay(sample, value) ?? 'not a day'}`,
  })
  const answer = notes.ask({
    key: `order of ${column}`,
    words: `What does “${sample}” in the column “${column}” mean?`,
    options: [option('day first'), option('month first')],
  })
  return answer === 'month first' ? 'month first' : 'day first'
}

/** Amounts of one column: whether "1.000" is one or a thousand is asked where no cell says it. */
export function readAmounts(
  notes: Notes,
  rows: readonly TableRow[],
  column: string,
  currencyOf: (row: TableRow) => Currency,
): (row: TableRow) => number | null {
  const [first] = rows
  const cells = rows.map(({ cells }) => cells[column] ?? '').filter(Boolean)
  const found = first ? decimalMarkOf(cells, currencyOf(first)) : 'point'
  const mark = found === null || isMarkOpen(cells) ? askMark(notes, cells, column) : found
  return (row) => {
    const written = row.cells[column] ?? ''
    if (written === '') return null
    const read = readAmount(written, currencyOf(row), mark)
    if ('words' in read) {
      const currency = currencyOf(row)
      notes.flaw(
        row.line,
        column,
        read.inOther === undefined
          ? `“${written.slice(0, 40)}” was not read as an amount in ${currency}. Write it like 120.00.`
          : `This amount is in ${read.inOther}. It is taken in ${currency} here: write what it came to.`,
      )
      return null
    }
    if (read.amountMinor >= 0) return read.amountMinor
    notes.flaw(row.line, column, 'The amount is below zero. Write what was given.')
    return null
  }
}

/** One mark with three figures behind it, and nothing else anywhere that would say what it parts. */
const isMarkOpen = (cells: readonly string[]): boolean => {
  const marked = cells.map((cell) => cell.replaceAll(/[^\d.,]/g, '')).filter((cell) => /[.,]/.test(cell))
  return marked.length > 0 && marked.every((cell) => /^[1-9]\d{0,2}[.,]\d{3}$/.test(cell))
}

function askMark(notes: Notes, cells: readonly string[], column: string): DecimalMark {
  const sample = cells.find((cell) => /[.,]\d{3}(?!\d)/.test(cell)) ?? cells.find((cell) => /[.,]/.test(cell)) ?? ''
  const answer = notes.ask({
    key: `mark of ${column}`,
    words: `In the column “${column}”, which mark stands before the pence or cents? One cell says “${sample}”.`,
    options: [
      { value: 'point', label: 'A point, as in 1,000.50' },
      { value: 'comma', label: 'A comma, as in 1.000,50' },
    ],
  })
  return answer === 'comma' ? 'comma' : 'point'
}

/** "3", "3.5 h", "1,5", "90 min", "2:30": in minutes, a bare number in hours. Null for anything else. */
export function minutesIn(written: string): number | null {
  const text = written.normalize('NFKC').trim().toLowerCase()
  const clock = /^(\d{1,4}):([0-5]\d)(?: ?h(?:ours?)?)?$/.exec(text)
  if (clock) return Number(clock[1]) * 60 + Number(clock[2])
  const match = /^(\d{1,6})(?:[.,](\d{1,2}))? ?(h|hrs?|hours?|std\.?|stunden?|heures?|m|min\.?|mins|minutes?|minuten)?$/.exec(text)
  if (!match) return null
  const [, whole = '', part = '', unit = 'h'] = match
  const figure = Number(`${whole}.${part || '0'}`)
  return Math.round(unit.startsWith('m') ? figure : figure * 60)
}

const BROKEN = /^(?:=|\+?#(?:REF|N\/A|NAME|VALUE|DIV\/0|NULL|NUM|BEZUG|WERT|NV)[!?]?$)/i

/** Cells that hold a formula or its failure, and not what it shows. */
export function refuseFormulas(notes: Notes, rows: readonly TableRow[]): void {
  for (const { line, cells } of rows)
    for (const [column, cell] of Object.entries(cells))
      if (BROKEN.test(cell))
        notes.flaw(line, column, 'A formula stands here, not what it shows. Write what is meant, or save the sheet with its values.')
}
