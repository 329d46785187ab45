import type { Placed } from '#bench/designs/placement.rules'
import styles from './board-picture.module.css'
import { layBoard, sayBoard } from './board-picture.rules'

export interface BoardPictureProps {
  placed: readonly Placed[]
  /** Parts of the block that is looked at. */
  suspects?: readonly string[]
  /** Test points: "TP3", "U2 pin 8". */
  points?: readonly string[]
  next?: string | null
}

/** The board drawn from its placement file, each side as one sees it. Shapes tell parts, suspects and points apart, not colour alone. */
export function BoardPicture({ placed, suspects = [], points = [], next = null }: BoardPictureProps) {
  return (
    <div className={styles.board}>
      {layBoard(placed, { suspects, points, next }).map((one) => (
        <figure key={one.side} className={styles.side}>
          <svg
            viewBox={`0 0 ${one.width.toFixed(1)} ${one.height.toFixed(1)}`}
            role="img"
            aria-label={sayBoard(one)}
            className={styles.picture}
          >
            <rect width={one.width} height={one.height} rx={2} className={styles.ground} />
            {one.marks.map(({ designator, x, y, tone, isNamed }) => (
              <g key={designator} data-tone={tone} className={styles.mark} transform={`translate(${x.toFixed(2)} ${y.toFixed(2)})`}>
                {tone === 'point' || tone === 'next' ? (
                  <circle r={tone === 'next' ? 2.4 : 1.7} />
                ) : (
                  <rect x={-1.3} y={-0.9} width={2.6} height={1.8} rx={0.3} />
                )}
                {isNamed && (
                  <text y={-2.6} textAnchor="middle">
                    {designator}
                  </text>
                )}
              </g>
            ))}
          </svg>
          <figcaption className="small quiet">{one.side === 'top' ? 'Top' : 'Bottom, as it lies when the board is turned over'}</figcaption>
        </figure>
      ))}
    </div>
  )
}
