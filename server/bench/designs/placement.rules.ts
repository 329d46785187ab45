import { type ColumnWanted, readTable, type Table, type TableFlaw } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'

/** Where the middle of a part sits, in micrometres from the file's origin, x to the right and y up, seen from the top. */
export interface Placed {
  designator: string
  xUm: number
  yUm: number
  side: 'top' | 'bottom'
  rotation: number
}

export const PLACEMENT_UNITS = ['mm', 'mil', 'inch'] as const
export type PlacementUnit = (typeof PLACEMENT_UNITS)[number]

export interface PlacementReading {
  table: Table
  flaws: TableFlaw[]
  /** The unit of plain figures, and why it was taken for that; `asks` where it is only a guess. */
  unit: { is: PlacementUnit; why: string; asks: boolean }
  rows: Placed[]
}

const UM: Record<PlacementUnit, number> = { mm: 1000, mil: 25.4, inch: 25_400 }

export const PLACEMENT_COLUMNS: readonly ColumnWanted[] = [
  {
    name: 'reference',
    isRequired: true,
    also: [
      'ref',
      'refdes',
      'ref des',
      'designator',
      'reference designator',
      'part reference',
      'component',
      'name',
      'referenz',
      'référence',
    ],
    guess: (_heading, cells) =>
      most(cells, (cell) => /^[A-Z]{1,4}\d{1,4}[A-Z]?$/i.test(cell)) ? 'what stands in it reads as designators' : null,
  },
  {
    name: 'x',
    isRequired: true,
    also: [
      'pos x',
      'posx',
      'mid x',
      'center x',
      'centre x',
      'ref x',
      'x pos',
      'x position',
      'location x',
      'center-x',
      'x (mm)',
      'x mm',
      'x(mm)',
      'center-x(mm)',
      'mid x (mm)',
      'posx (mm)',
      'x (mil)',
      'x(mil)',
      'center-x(mil)',
      'mid x (mil)',
    ],
  },
  {
    name: 'y',
    isRequired: true,
    also: [
      'pos y',
      'posy',
      'mid y',
      'center y',
      'centre y',
      'ref y',
      'y pos',
      'y position',
      'location y',
      'center-y',
      'y (mm)',
      'y mm',
      'y(mm)',
      'center-y(mm)',
      'mid y (mm)',
      'posy (mm)',
      'y (mil)',
      'y(mil)',
      'center-y(mil)',
      'mid y (mil)',
    ],
  },
  {
    name: 'side',
    isRequired: false,
    also: ['layer', 'tb', 't/b', 'board side', 'seite', 'lage', 'mirror', 'face', 'côté'],
    guess: (_heading, cells) => (most(cells, (cell) => sideIn(cell) !== null) ? 'what stands in it reads as sides of a board' : null),
  },
  { name: 'rotation', isRequired: false, also: ['rot', 'angle', 'rotation (deg)', 'orientation', 'drehung', 'winkel'] },
]

const most = (cells: readonly string[], test: (cell: string) => boolean): boolean =>
  cells.length > 0 && cells.filter(test).length >= cells.length * 0.6

/** Reads the file that a fabrication house takes for placing parts; columns in any order, in millimetres, mils or inches. */
export function readPlacement(
  source: Uint8Array | string,
  choice: TableChoice & { unit?: PlacementUnit | undefined } = {},
): PlacementReading {
  const { table, flaws } = readTable(source, PLACEMENT_COLUMNS, choice)
  const headings = table.columns.filter(({ column }) => column === 'x').map(({ heading }) => heading)
  const figures = table.rows.flatMap(({ cells }) => numberIn(cells.x ?? '')?.value ?? [])
  const unit = unitOf(choice.unit, headings, figures)
  const rows: Placed[] = []
  const seen = new Set<string>()
  for (const { line, cells } of table.rows) {
    const flaw = (column: string, words: string) => flaws.push({ line, column, words })
    const designator = (cells.reference ?? '').toUpperCase()
    const [x, y] = [numberIn(cells.x ?? ''), numberIn(cells.y ?? '')]
    const side = cells.side ? sideIn(cells.side) : 'top'
    const rotation = cells.rotation ? numberIn(cells.rotation.replace(/°$/, '')) : { value: 0, unit: null }
    if (designator === '' || designator.length > 20) flaw('reference', 'Write the designator, such as R1.')
    else if (seen.has(designator)) flaw('reference', `${designator} stands in two rows. Keep one.`)
    else if (!x) flaw('x', `“${cells.x}” is not a place. Write a figure, such as 12.7.`)
    else if (!y) flaw('y', `“${cells.y}” is not a place. Write a figure, such as 12.7.`)
    else if (side === null) flaw('side', `“${cells.side}” is no side. Write top or bottom.`)
    else if (!rotation) flaw('rotation', `“${cells.rotation}” is no angle. Write degrees, such as 90.`)
    else {
      const um = ({ value, unit: own }: { value: number; unit: PlacementUnit | null }) => Math.round(value * UM[own ?? unit.is])
      const placed = { designator, xUm: um(x), yUm: um(y), side, rotation: ((rotation.value % 360) + 360) % 360 }
      if (Math.max(Math.abs(placed.xUm), Math.abs(placed.yUm)) > 2_000_000)
        flaw('x', `${designator} would be more than 2 m away. Is it the right unit?`)
      else rows.push(placed)
    }
    seen.add(designator)
  }
  return { table, flaws, unit, rows }
}

/** A figure with or without its unit behind it; a comma stands for the point. */
function numberIn(cell: string): { value: number; unit: PlacementUnit | null } | null {
  const read = /^([+-]?\d{1,9}(?:[.,]\d{1,9})?) ?(mm|mil|mils|in|inch|")?$/i.exec(cell.trim())
  if (!read?.[1]) return null
  const unit = read[2]?.toLowerCase()
  return {
    value: Number(read[1].replace(',', '.')),
    unit: unit === undefined ? null : unit === 'mm' ? 'mm' : unit.startsWith('mil') ? 'mil' : 'inch',
  }
}

function unitOf(chosen: PlacementUnit | undefined, headings: readonly string[], figures: readonly number[]): PlacementReading['unit'] {
  if (chosen) return { is: chosen, why: 'as you chose', asks: false }
  const said = headings.flatMap(
    (heading) => /\b(mm|mils?|inch(?:es)?|in)\b/i.exec(heading.replace(/[()_-]/g, ' '))?.[1]?.toLowerCase() ?? [],
  )[0]
  if (said) return { is: said === 'mm' ? 'mm' : said.startsWith('mil') ? 'mil' : 'inch', why: 'the heading says so', asks: false }
  const span = Math.round(Math.max(0, ...figures) - Math.min(0, ...figures))
  if (span > 600) return { is: 'mil', why: `a board of ${span} mm would be large`, asks: true }
  return { is: 'mm', why: `a board of ${span} mil would be small`, asks: true }
}

function sideIn(cell: string): 'top' | 'bottom' | null {
  const word = cell.trim().toLowerCase()
  if (/^(?:t|top|top ?layer|f|f\.cu|front|component|0|no|oben)$/.test(word)) return 'top'
  return /^(?:b|bot|bottom|bottom ?layer|b\.cu|back|solder|1|yes|unten)$/.test(word) ? 'bottom' : null
}
