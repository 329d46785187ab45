import type { LineOutlook } from '#bench/buildable/build.contract'
import type { BuildPage, DesignColumn } from '#bench/buildable/build.service'
import { cellState } from './cell.rules'

type Design = BuildPage['designs'][number]

/** More columns than this no screen shows side by side; more rows than that nobody reads, and the saved table has them all. */
export const MOST_COLUMNS = 80
export const MOST_ROWS = 200
export const MOST_LACKS = 30

const THERE = new Set(['fitted', 'there', 'instead'])
const isThere = (line: LineOutlook | undefined) => THERE.has(cellState(line))

export interface Lack {
  column: DesignColumn
  line: LineOutlook | undefined
}

export interface ShownUnit {
  unit: Design['units'][number]
  /** Where each column of the picture stands. */
  cells: (LineOutlook | undefined)[]
  /** What it still waits for: the first of it, and how many lines more. */
  lacks: Lack[]
  more: number
}

/**
 * A board may have thousands of lines. All are shown while they fit; else those that most units wait for, in the order of the list.
 */
export function shownOf({ columns, units }: Design): { columns: DesignColumn[]; left: number; units: ShownUnit[] } {
  const linesOf = units.map(({ lines }) => new Map(lines.map((line) => [line.lineId, line])))
  const waiting = ({ lineId }: DesignColumn) => linesOf.filter((lines) => !isThere(lines.get(lineId))).length
  const ranked = columns.map((column, place) => ({ column, place, waiting: columns.length > MOST_COLUMNS ? waiting(column) : 0 }))
  const kept = ranked
    .sort((a, b) => b.waiting - a.waiting || a.place - b.place)
    .slice(0, MOST_COLUMNS)
    .sort((a, b) => a.place - b.place)
    .map(({ column }) => column)
  return {
    columns: kept,
    left: columns.length - kept.length,
    units: units.map((unit, index) => {
      const lineOf = (column: DesignColumn) => linesOf[index]?.get(column.lineId)
      const lacks = columns.filter((column) => !isThere(lineOf(column)))
      const first = lacks.slice(0, MOST_LACKS).map((column) => ({ column, line: lineOf(column) }))
      return { unit, cells: kept.map(lineOf), lacks: first, more: lacks.length - first.length }
    }),
  }
}
