import { columnsOf } from '#bench/designs/blocks.rules'
import type { Feed } from '#bench/designs/design.contract'

/** Five shades that print apart in black and white; the figure stands in each. */
export function shadeOf(share: number): 0 | 1 | 2 | 3 | 4 {
  if (share < 0.01) return 0
  if (share < 0.1) return 1
  if (share < 0.25) return 2
  return share < 0.5 ? 3 : 4
}

export const BOX = { wide: 118, high: 58, gapX: 14, gapY: 30 }
const ABREAST = 3

export interface Laid {
  places: Map<string, { x: number; y: number }>
  width: number
  height: number
}

/** Blocks from top to bottom, each below what feeds it, three abreast at most, near what feeds them: so that it fits a phone. */
export function layBlocks(blocks: readonly string[], feeds: readonly Feed[]): Laid {
  const depth = columnsOf(blocks, feeds)
  const places = new Map<string, { x: number; y: number }>()
  const width = ABREAST * (BOX.wide + BOX.gapX) - BOX.gapX
  let row = 0
  for (const level of [...new Set(depth.values())].sort((a, b) => a - b)) {
    const here = blocks.filter((block) => depth.get(block) === level)
    const ordered = [...here].sort((a, b) => middleOfFeeders(a) - middleOfFeeders(b))
    for (let from = 0; from < ordered.length; from += ABREAST) {
      const line = ordered.slice(from, from + ABREAST)
      const taken = line.length * (BOX.wide + BOX.gapX) - BOX.gapX
      for (const [index, block] of line.entries())
        places.set(block, { x: (width - taken) / 2 + index * (BOX.wide + BOX.gapX), y: row * (BOX.high + BOX.gapY) })
      row++
    }
  }
  return { places, width, height: Math.max(1, row) * (BOX.high + BOX.gapY) - BOX.gapY }

  function middleOfFeeders(block: string): number {
    const xs = feeds.flatMap(({ from, to }) => (to === block ? (places.get(from)?.x ?? []) : []))
    return xs.length === 0 ? width / 2 : xs.reduce((sum, x) => sum + x, 0) / xs.length
  }
}

/** A name in two lines at most, broken where there is a space. */
export function linesOf(name: string): string[] {
  const words = name.split(' ')
  if (name.length <= 13 || words.length === 1) return [name]
  const half = words.findIndex((_, index) => words.slice(0, index + 1).join(' ').length >= name.length / 2)
  const cut = Math.max(1, Math.min(half === -1 ? 1 : half + (words.slice(0, half + 1).join(' ').length > 14 ? 0 : 1), words.length - 1))
  return [words.slice(0, cut).join(' '), words.slice(cut).join(' ')]
}
