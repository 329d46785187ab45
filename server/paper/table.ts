import { breakLines, type Line, QUIET, RULE, type Span, setLine } from './lines'
import type { Paper } from './paper'

/** Widths of columns in points, by what stands in them. */
export const WIDTHS = {
  tick: 60,
  quantity: 60,
  weight: 80,
  price: 90,
  sum: 130,
  country: 100,
  reading: 90,
  limits: 110,
  writtenByHand: 100,
} as const

/** The same where six columns share a sheet. */
export const NARROW = {
  quantity: 52,
  weight: 70,
  code: 74,
  country: 80,
  reading: 78,
  doubt: 44,
  limits: 84,
  gauge: 108,
  verdict: 62,
} as const

/** A share of what the columns with a width of their own leave. */
export interface Share {
  share: number
}

export const REST: Share = { share: 1 }

export interface Column {
  head: string
  width: number | Share
  align?: 'left' | 'right'
}

/** A column whose place on the sheet is known. */
interface PlacedColumn extends Column {
  x: number
  width: number
}

export interface Cell {
  spans?: readonly Span[]
  /** A drawing in place of words, with the sentence that stands for it. */
  figure?: { alt: string; draw: (box: { x: number; y: number; width: number; height: number }) => void }
}

const SIZE = 9
const LEADING = 12
const PAD = 4
const GAP = 8

/** A table whose head is repeated on each sheet, and whose rows are never torn apart. The first cell names its row. */
export function setTable(paper: Paper, columns: readonly Column[], rows: readonly (readonly Cell[])[]) {
  const placed = placeColumns(columns, paper)
  const table = paper.element('Table')
  const head = paper.element('TR', paper.element('THead', table))
  const body = paper.element('TBody', table)
  const heads = placed.map((column) => breakLines(paper.faces, [{ text: column.head, colour: QUIET }], column.width - GAP, SIZE))
  const drawHead = (draw: (index: number, work: () => void) => void) => {
    for (const [index, column] of placed.entries()) {
      draw(index, () => setLines(paper, heads[index] ?? [], column))
    }
    paper.y += Math.max(1, ...heads.map((lines) => lines.length)) * LEADING + PAD
    paper.artifact(() => rule(paper))
  }
  paper.room(80)
  drawHead((index, work) => void paper.element('TH', head, { scope: 'Column', title: columns[index]?.head }).add(work).end())
  paper.withHead(
    () => drawHead((_index, work) => paper.artifact(work, 'Pagination')),
    () => {
      for (const row of rows) setRow(paper, placed, row, body)
    },
  )
  table.end()
}

function setRow(paper: Paper, columns: readonly PlacedColumn[], cells: readonly Cell[], body: ReturnType<Paper['element']>) {
  const lines = columns.map((column, index) => breakLines(paper.faces, cells[index]?.spans ?? [], column.width - GAP, SIZE))
  const height = Math.max(...lines.map((some) => some.length)) * LEADING + 2 * PAD
  paper.room(height)
  const row = paper.element('TR', body)
  paper.y += PAD
  for (const [index, column] of columns.entries()) {
    const { figure } = cells[index] ?? {}
    const cell = paper.element(index === 0 ? 'TH' : 'TD', row, index === 0 ? { scope: 'Row' } : {})
    if (figure) {
      const box = { x: column.x, y: paper.y, width: column.width - GAP, height: height - 2 * PAD }
      const bbox = [box.x, box.y, box.x + box.width, box.y + box.height]
      paper
        .element('Figure', cell, { alt: figure.alt, bbox, placement: 'Block' })
        .add(() => figure.draw(box))
        .end()
    } else cell.add(() => setLines(paper, lines[index] ?? [], column, height - 2 * PAD))
    cell.end()
  }
  row.end()
  paper.y += height - PAD
  paper.artifact(() => rule(paper))
}

function placeColumns(columns: readonly Column[], { left, width: all }: Paper): PlacedColumn[] {
  const sum = (widths: readonly number[]) => widths.reduce((a, b) => a + b, 0)
  const rest = all - sum(columns.map(({ width }) => (typeof width === 'number' ? width : 0)))
  const shares = sum(columns.map(({ width }) => (typeof width === 'number' ? 0 : width.share)))
  let x = left
  return columns.map((column) => {
    const width = typeof column.width === 'number' ? column.width : (rest * column.width.share) / shares
    const placed = { ...column, x, width }
    x += width
    return placed
  })
}

/** Lines stand in the middle of their row's height. */
function setLines(paper: Paper, lines: readonly Line[], column: PlacedColumn, height = 0) {
  const above = Math.max(0, (height - lines.length * LEADING) / 2)
  for (const [index, line] of lines.entries()) {
    setLine(paper.doc, line, column.x, paper.y + above + index * LEADING + SIZE, column.width - GAP, column.align)
  }
}

function rule(paper: Paper) {
  paper.doc
    .moveTo(paper.left, paper.y)
    .lineTo(paper.left + paper.width, paper.y)
    .lineWidth(0.5)
    .strokeColor(RULE)
    .stroke()
}
