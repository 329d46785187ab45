import { columnsOf } from '#bench/designs/blocks.rules'
import type { Feed } from '#bench/designs/design.contract'
import styles from './blocks.module.css'

const WIDE = 148
const HIGH = 40
const GAP_X = 44
const GAP_Y = 22

export interface BlocksPictureProps {
  blocks: readonly string[]
  feeds: readonly Feed[]
}

/** As small as can still be read; a design with more columns than fit then is scrolled. */
const LEAST_SCALE = 0.62

/** Blocks as boxes from left to right, each to the right of what feeds it; power drawn thick, signal thin. The same as a list below. */
export function BlocksPicture({ blocks, feeds }: BlocksPictureProps) {
  const column = columnsOf(blocks, feeds)
  const rows = new Map<number, number>()
  const places = new Map(
    blocks.map((block) => {
      const x = column.get(block) ?? 0
      const y = rows.get(x) ?? 0
      rows.set(x, y + 1)
      return [block, { x: x * (WIDE + GAP_X), y: y * (HIGH + GAP_Y) }]
    }),
  )
  const width = (Math.max(0, ...column.values()) + 1) * (WIDE + GAP_X) - GAP_X
  const height = Math.max(1, ...rows.values()) * (HIGH + GAP_Y) - GAP_Y
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard */}
      <section className={styles.scroll} tabIndex={0} aria-label="Picture of the blocks">
        <svg
          viewBox={`-4 -4 ${width + 8} ${height + 8}`}
          style={{ width: '100%', minWidth: (width + 8) * LEAST_SCALE, maxWidth: width + 8 }}
          className={styles.picture}
          role="img"
          aria-label="Which block feeds which; the list below shows the same"
        >
          {feeds.map(({ from, to, kind }) => {
            const a = places.get(from)
            const b = places.get(to)
            if (!a || !b) return null
            const [x1, y1, x2, y2] = [a.x + WIDE, a.y + HIGH / 2, b.x, b.y + HIGH / 2]
            const bend = Math.max(24, (x2 - x1) / 2)
            return (
              <path
                key={`${from} ${to} ${kind}`}
                className={styles[kind]}
                d={`M${x1} ${y1}C${x1 + bend} ${y1} ${x2 - bend} ${y2} ${x2} ${y2}`}
              />
            )
          })}
          {[...places].map(([block, { x, y }]) => (
            <g key={block} transform={`translate(${x} ${y})`}>
              <path className={styles.box} d={`M6 0H${WIDE - 6}L${WIDE} 6V${HIGH - 6}L${WIDE - 6} ${HIGH}H6L0 ${HIGH - 6}V6Z`} />
              <text
                className={styles.name}
                x={WIDE / 2}
                y={HIGH / 2 + 5}
                textAnchor="middle"
                textLength={block.length > 20 ? WIDE - 12 : undefined}
              >
                {block}
              </text>
            </g>
          ))}
        </svg>
      </section>
      <details>
        <summary>As a list</summary>
        <ul>
          {feeds.map(({ from, to, kind }) => (
            <li key={`${from} ${to} ${kind}`}>
              {from} gives {kind} to {to}
            </li>
          ))}
        </ul>
      </details>
    </>
  )
}
