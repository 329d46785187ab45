import type { ReactNode } from 'react'
import type { BoardPhotograph } from '#bench/faults/fault.contract'
import styles from './board-photo.module.css'
import { type LookedFor, lookedPins, sayPins } from './board-photo.rules'

interface BoardPhotoProps extends Partial<LookedFor> {
  photograph: BoardPhotograph
  /** What lies over it, such as where one presses. */
  children?: ReactNode
}

/** A photograph of the board with what is pinned on it. Shapes tell parts, suspects and points apart, not colour alone. */
export function BoardPhoto({
  photograph: { sha, words, width, height, pins },
  suspects = [],
  points = [],
  next = null,
  children,
}: BoardPhotoProps) {
  const looked = lookedPins(pins, { suspects, points, next })
  // Where something is looked for the others need no name.
  const names = looked.some(({ tone }) => tone !== 'part') ? looked.filter(({ tone }) => tone !== 'part') : looked
  return (
    <figure className={styles.figure}>
      <div className={styles.board} style={{ aspectRatio: `${width} / ${height}` }}>
        {/* biome-ignore lint/performance/noImgElement: the house keeps it in these sizes itself. */}
        <img
          src={`/files/${sha}-960.webp`}
          srcSet={`/files/${sha}-480.webp 480w, /files/${sha}-960.webp 960w, /files/${sha}-1600.webp 1600w`}
          sizes="(max-width: 640px) 100vw, 800px"
          alt={sayPins(words, looked)}
          width={width}
          height={height}
        />
        {looked.map(({ mark, x, y, tone }) => (
          <span key={mark} className={styles.pin} data-tone={tone} style={{ left: `${x / 10}%`, top: `${y / 10}%` }} aria-hidden="true">
            {names.some((one) => one.mark === mark) && <b data-below={y < 80 || undefined}>{mark}</b>}
          </span>
        ))}
        {children}
      </div>
      {words && <figcaption className="small quiet">{words}</figcaption>}
    </figure>
  )
}
