import { Refusal } from '#kernel/refusal'

/** Where labels stand on a sheet, and how large the modules of a code may be. Millimetres unless a name says otherwise. */

export const LABEL_SIZES = ['piece', 'bag', 'unit', 'shelf'] as const
export type LabelSize = (typeof LABEL_SIZES)[number]

/** Sheets of ready-cut labels, or a roll with one label after another. */
export const LABEL_PAPERS = ['a4', 'letter', 'roll'] as const
export type LabelPaper = (typeof LABEL_PAPERS)[number]

export interface SheetPlan {
  page: { width: number; height: number }
  label: { width: number; height: number }
  columns: number
  rows: number
  /** From one label's left (top) edge to the next one's. */
  pitch: { x: number; y: number }
  /** Of the first label. */
  corner: { x: number; y: number }
}

const A4 = { width: 210, height: 297 }
const LETTER = { width: 215.9, height: 279.4 }

// Common practice, no source: the cuts in which sheets of labels are sold in most stationers' shops, by labels on a sheet.
const SHEETS: Record<
  Exclude<LabelPaper, 'roll'>,
  Record<LabelSize, [columns: number, rows: number, width: number, height: number, gap: number]>
> = {
  a4: { piece: [5, 13, 38.1, 21.2, 2.54], bag: [3, 7, 63.5, 38.1, 2.54], unit: [2, 7, 99.1, 38.1, 2.54], shelf: [2, 4, 99.1, 67.7, 2.54] },
  letter: {
    piece: [4, 10, 44.45, 25.4, 7.62],
    bag: [3, 10, 66.7, 25.4, 3.05],
    unit: [2, 5, 101.6, 50.8, 4.8],
    shelf: [2, 3, 101.6, 84.7, 4.8],
  },
}

/** The labels of one sheet: in the middle of it, side by side with the gap of that cut, rows touching. */
export function sheetPlan(paper: LabelPaper, size: LabelSize): SheetPlan {
  if (paper === 'roll') {
    const [, , width, height] = SHEETS.a4[size]
    const label = { width: wholeDots(width), height: wholeDots(height) }
    return { page: label, label, columns: 1, rows: 1, pitch: { x: label.width, y: label.height }, corner: { x: 0, y: 0 } }
  }
  const page = paper === 'a4' ? A4 : LETTER
  const [columns, rows, width, height, gap] = SHEETS[paper][size]
  const pitch = { x: width + gap, y: height }
  const corner = { x: (page.width - columns * pitch.x + gap) / 2, y: (page.height - rows * pitch.y) / 2 }
  return { page, label: { width, height }, columns, rows, pitch, corner }
}

export const labelsOnSheet = (paper: LabelPaper, size: LabelSize): number => {
  const { columns, rows } = sheetPlan(paper, size)
  return columns * rows
}

/** Sheet and place of the label of that number, when the first `skip` places of the first sheet are used up. */
export function placeOnSheet(plan: SheetPlan, index: number, skip: number): { sheet: number; x: number; y: number } {
  const on = plan.columns * plan.rows
  const at = index + skip
  const place = at % on
  const x = plan.corner.x + (place % plan.columns) * plan.pitch.x
  const y = plan.corner.y + Math.floor(place / plan.columns) * plan.pitch.y
  return { sheet: Math.floor(at / on), x, y }
}

/** One dot of a 203 dpi printer: an eighth of a millimetre, near enough. */
export const DOT_MM = 25.4 / 203

/** The nearest place that such a printer can hit. */
export const wholeDots = (mm: number): number => Math.round(mm / DOT_MM) * DOT_MM

const BEST_DOTS = 4
const LEAST_DOTS = 2

/**
 * Dots along the side of one module, so that a code of `modules` (quiet zone included) stands in `room`: half a
 * millimetre where it can, a quarter at least. Refused where not even that is possible: nothing would read it.
 */
export function moduleDots(modules: number, room: number): number {
  const dots = Math.min(BEST_DOTS, Math.floor(room / DOT_MM / modules))
  if (dots >= LEAST_DOTS) return dots
  throw new Refusal('bad-input', 'The address is too long for a code on so small a label. Choose a larger one.')
}
