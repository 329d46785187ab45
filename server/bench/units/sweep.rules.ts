/** The table of a sweep as an instrument saves it, read so that it can be drawn: one quantity across, up to four above it. */
export interface Sweep {
  /** What stands across, in the words of the file. */
  across: string
  /** Frequencies over more than two decades, and the like, are drawn on a scale of decades. */
  isByDecades: boolean
  /** How many rows the file has; of a long one fewer are drawn, with the least and the greatest of each stretch. */
  rows: number
  at: number[]
  lines: { name: string; values: number[] }[]
}

export type SweepReading = { ok: true; sweep: Sweep } | { ok: false; words: string }

/** As much as is read in a few hundredths of a second: an instrument saves some thousand points. */
export const MOST_SWEEP_BYTES = 500_000
const MOST_LINES = 4
const MOST_DRAWN = 400
const LEAST_ROWS = 3
const NOT_READ =
  'This is not a table that can be drawn. Save it from the instrument as CSV: the first column across (frequency, time), the others above it, all numbers.'

/** Reads a table with whatever stands above it: remarks, a heading, units. What does not read as numbers from there on is refused. */
export function readSweep(text: string): SweepReading {
  if (text.length > MOST_SWEEP_BYTES) return { ok: false, words: 'A sweep may have 500 kB at most. Save fewer points.' }
  const lines = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .filter((line) => line.trim() !== '')
  const mark = markOf(lines)
  const cells = lines.map((line) => splitAt(line, mark).map((cell) => numberIn(cell, mark)))
  const first = cells.findIndex((row, at) => isRow(row) && isRow(cells[at + 1] ?? []) && isRow(cells[at + 2] ?? []))
  if (first < 0) return { ok: false, words: NOT_READ }
  const width = Math.min(leading(cells[first] ?? []), MOST_LINES + 1)
  const rows = cells.slice(first)
  const bad = rows.findIndex((row) => leading(row) < width)
  if (bad >= 0)
    return { ok: false, words: `Line ${first + bad + 1} of the table does not have ${width} numbers as the lines before it do.` }
  if (rows.length < LEAST_ROWS) return { ok: false, words: NOT_READ }
  const heading = first > 0 ? splitAt(lines[first - 1] ?? '', mark).map(plainName) : []
  const name = (index: number) => heading[index] || (index === 0 ? 'across' : `column ${index + 1}`)
  const table = [...rows].sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0)) as number[][]
  const drawn = thinned(table, width)
  const at = drawn.map((row) => row[0] ?? 0)
  const sweep: Sweep = {
    across: name(0),
    isByDecades: isByDecades(at),
    rows: rows.length,
    at,
    lines: Array.from({ length: width - 1 }, (_, index) => ({ name: name(index + 1), values: drawn.map((row) => row[index + 1] ?? 0) })),
  }
  return { ok: true, sweep }
}

const isRow = (row: readonly (number | null)[]): boolean => leading(row) >= 2

/** How many numbers a row begins with. */
function leading(row: readonly (number | null)[]): number {
  const at = row.indexOf(null)
  return at < 0 ? row.length : at
}

/** What parts the cells: the one by which most lines fall into the same number, more than one. */
function markOf(lines: readonly string[]): string {
  const marks = [';', '\t', ',']
  const counts = marks.map((mark) => {
    const widths = lines.slice(-50).map((line) => splitAt(line, mark).filter((cell) => numberIn(cell, mark) !== null).length)
    return { mark, many: widths.filter((width) => width >= 2).length }
  })
  return counts.reduce((best, one) => (one.many > best.many ? one : best)).mark
}

const splitAt = (line: string, mark: string): string[] => {
  const cells = line.split(mark).map((cell) => cell.trim())
  // Many instruments end each line with the mark.
  if (cells.at(-1) === '') cells.pop()
  return cells
}

/** A cell that is a number and nothing else; a comma stands for the point where it does not part cells. */
function numberIn(cell: string, mark: string): number | null {
  const bare = cell.startsWith('"') && cell.endsWith('"') ? cell.slice(1, -1).trim() : cell
  const written = mark === ',' ? bare : bare.replace(',', '.')
  return /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?$/.test(written) ? Number(written) : null
}

const plainName = (cell: string): string =>
  cell
    .replaceAll('"', '')
    .replace(/^[#!%]/, '')
    .trim()
    .slice(0, 40)

function isByDecades(at: readonly number[]): boolean {
  const [first = 0] = at
  const last = at.at(-1) ?? 0
  return first > 0 && last / first >= 100 && (at[Math.floor(at.length / 2)] ?? 0) < last / 4
}

/** Of a long table the rows with the least and the greatest of each stretch, so that no peak is lost. */
function thinned(table: readonly number[][], width: number): number[][] {
  if (table.length <= MOST_DRAWN) return [...table]
  const kept = new Set([0, table.length - 1])
  const stretches = Math.floor(MOST_DRAWN / (2 * (width - 1)))
  for (let stretch = 0; stretch < stretches; stretch += 1) {
    const from = Math.floor((stretch * table.length) / stretches)
    const to = Math.floor(((stretch + 1) * table.length) / stretches)
    for (let column = 1; column < width; column += 1) {
      let [least, greatest] = [from, from]
      for (let at = from; at < to; at += 1) {
        if (valueAt(table, at, column) < valueAt(table, least, column)) least = at
        if (valueAt(table, at, column) > valueAt(table, greatest, column)) greatest = at
      }
      kept.add(least).add(greatest)
    }
  }
  return [...kept].sort((a, b) => a - b).map((at) => table[at] ?? [])
}

const valueAt = (table: readonly number[][], at: number, column: number): number => table[at]?.[column] ?? 0
