import type { Feed } from '#bench/designs/design.contract'
import type { Suspect } from '#bench/faults/fault.contract'
import { percent } from '#bench/faults/odds.rules'
import styles from './fault.module.css'
import { BOX, layBlocks, linesOf, shadeOf } from './shade.rules'

const SHADES = [styles.shade0, styles.shade1, styles.shade2, styles.shade3, styles.shade4]

/** Blocks that are suspected by one in a hundred, in order: "first", "second"; the others have no place. */
function placeWords(suspects: readonly Suspect[], block: string): string {
  const at = suspects.findIndex((one) => one.block === block)
  return (suspects[at]?.share ?? 0) < 0.01 ? '·' : (PLACES[at] ?? `${at + 1}th`)
}

const PLACES = ['first', 'second', 'third']

/** What feeds what, each block as dark as it is suspected, with its figure or its place. Power is drawn thick, signal thin. */
export function BlockShades({
  blocks,
  feeds,
  suspects,
  hasFigures,
}: {
  blocks: readonly string[]
  feeds: readonly Feed[]
  suspects: readonly Suspect[]
  hasFigures: boolean
}) {
  const { places, width, height } = layBlocks(blocks, feeds)
  const shares = new Map(suspects.map(({ block, share }) => [block, share]))
  return (
    <svg
      viewBox={`-3 -3 ${width + 6} ${height + 6}`}
      className={styles.picture}
      role="img"
      aria-label="What feeds what, each block as dark as it is suspected; the figures stand in the table below"
    >
      {feeds.map(({ from, to, kind }) => {
        const [a, b] = [places.get(from), places.get(to)]
        if (!a || !b) return null
        return <path key={`${from} ${to} ${kind}`} className={styles[kind]} d={wire(a, b, width)} />
      })}
      {[...places].map(([block, { x, y }]) => {
        const share = shares.get(block) ?? 0
        const lines = linesOf(block)
        return (
          <g key={block} transform={`translate(${x} ${y})`} className={SHADES[shadeOf(share)]}>
            <path className={styles.ground} d={`M6 0H${BOX.wide - 6}L${BOX.wide} 6V${BOX.high}H0V6Z`} />
            <path className={styles.box} d={`M6 0H${BOX.wide - 6}L${BOX.wide} 6V${BOX.high}H0V6Z`} />
            {lines.map((line, index) => (
              <text key={line} className={styles.name} x={BOX.wide / 2} y={(lines.length === 1 ? 23 : 16) + index * 15} textAnchor="middle">
                {line}
              </text>
            ))}
            <text className={styles.figure} x={BOX.wide / 2} y={BOX.high - 7} textAnchor="middle">
              {hasFigures ? percent(share) : placeWords(suspects, block)}
            </text>
          </g>
        )
      })}
    </svg>
  )
}

interface At {
  x: number
  y: number
}

/** Straight down to the next row; past other rows in the lane between the boxes, so that no wire seems to end in a box it passes. */
function wire(a: At, b: At, width: number): string {
  const [x1, y1, x2, y2] = [a.x + BOX.wide / 2, a.y + BOX.high, b.x + BOX.wide / 2, b.y]
  const step = BOX.high + BOX.gapY
  const bend = BOX.gapY / 2
  if (y2 - y1 <= BOX.gapY + 1 && y2 > y1) return `M${x1} ${y1}C${x1} ${y1 + bend} ${x2} ${y2 - bend} ${x2} ${y2}`
  const lanes = [1, 2].map((lane) => lane * (BOX.wide + BOX.gapX) - BOX.gapX / 2)
  const outer = [-2, width + 2]
  const middle = (x1 + x2) / 2
  const lane =
    [...lanes, ...(Math.abs(y2 - y1) > 3 * step ? outer : [])].sort((p, q) => Math.abs(p - middle) - Math.abs(q - middle))[0] ?? middle
  return `M${x1} ${y1}C${x1} ${y1 + bend} ${lane} ${y1 + bend / 2} ${lane} ${y1 + BOX.gapY}V${y2 - BOX.gapY}C${lane} ${y2 - bend / 2} ${x2} ${y2 - bend} ${x2} ${y2}`
}
