import type { Placed } from '#bench/designs/placement.rules'

export interface BoardMark {
  designator: string
  /** In the units of the picture, y down. */
  x: number
  y: number
  tone: 'part' | 'suspect' | 'point' | 'next'
  /** Only what is looked for is named: of the others the picture would be full. */
  isNamed: boolean
}

export interface BoardSide {
  side: 'top' | 'bottom'
  width: number
  height: number
  marks: BoardMark[]
}

const ROOM = 8

/** Which designator a point is at: "U2 pin 8" is at U2, "TP3" at itself. */
export function placeOfPoint(point: string, placed: readonly Placed[]): string | null {
  const first = point.toUpperCase().split(/[\s.,:]/)[0] ?? ''
  return placed.some(({ designator }) => designator === first) ? first : null
}

/** Each side that has parts, or something of what is looked for, as one sees it: the bottom as the board lies when it is turned over, left to right. */
export function layBoard(
  placed: readonly Placed[],
  looked: { suspects: readonly string[]; points: readonly string[]; next: string | null },
): BoardSide[] {
  if (placed.length === 0) return []
  const xs = placed.map(({ xUm }) => xUm)
  const ys = placed.map(({ yUm }) => yUm)
  const [left, right] = [Math.min(...xs), Math.max(...xs)]
  const [low, high] = [Math.min(...ys), Math.max(...ys)]
  const scale = 100 / Math.max(right - left, high - low, 1)
  const width = (right - left) * scale + 2 * ROOM
  const height = (high - low) * scale + 2 * ROOM
  const points = new Set(looked.points.flatMap((point) => placeOfPoint(point, placed) ?? []))
  const next = looked.next === null ? null : placeOfPoint(looked.next, placed)
  return (['top', 'bottom'] as const).flatMap((side) => {
    const own = placed.filter((one) => one.side === side)
    const isWanted = ({ designator }: Placed) => designator === next || points.has(designator) || looked.suspects.includes(designator)
    // Where something is looked for, a side without any of it has nothing to say.
    if (own.length === 0 || (placed.some(isWanted) && looked.suspects.length > 0 && !own.some(isWanted))) return []
    const marks = own.map(({ designator, xUm, yUm }): BoardMark => {
      const across = side === 'top' ? xUm - left : right - xUm
      const tone =
        designator === next ? 'next' : points.has(designator) ? 'point' : looked.suspects.includes(designator) ? 'suspect' : 'part'
      return { designator, x: across * scale + ROOM, y: (high - yUm) * scale + ROOM, tone, isNamed: tone !== 'part' || own.length <= 30 }
    })
    // What is looked for lies on top.
    const weight = { part: 0, suspect: 1, point: 2, next: 3 }
    return [{ side, width, height, marks: marks.sort((a, b) => weight[a.tone] - weight[b.tone]) }]
  })
}

/** The same for somebody who cannot see it. */
export function sayBoard({ side, width, height, marks }: BoardSide): string {
  const where = ({ x, y }: BoardMark) =>
    `${y < height / 3 ? 'upper' : y > (2 * height) / 3 ? 'lower' : 'middle'} ${x < width / 3 ? 'left' : x > (2 * width) / 3 ? 'right' : 'centre'}`
  const named = marks
    .filter(({ tone }) => tone !== 'part')
    .map((mark) => `${mark.designator} ${mark.tone === 'next' ? '(probe next) ' : ''}${where(mark)}`)
  return `The ${side} of the board, ${marks.length} parts. ${named.length > 0 ? `${named.join('; ')}.` : ''}`.trim()
}
