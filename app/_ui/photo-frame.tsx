import { classes } from './classes'
import styles from './photo-frame.module.css'

const WIDTHS = [480, 960, 1600] as const

export interface PhotoFrameProps {
  sha: string
  /** What it shows, for those who cannot see it. Empty only when the text beside it says the same. */
  alt: string
  /** Of the original, so that the page does not jump when it arrives. */
  width: number
  height: number
  caption?: string
  /** As in HTML: how wide it will stand. */
  sizes?: string
  /** The first picture of a page is fetched at once, the others as they come into view. */
  first?: boolean
  /** Cuts the picture to a shape instead of keeping its own. */
  shape?: 'own' | 'wide' | 'square'
}

/** A photograph from our own files, at the width the screen needs. */
export function PhotoFrame({ sha, alt, width, height, caption, sizes = '100vw', first = false, shape = 'own' }: PhotoFrameProps) {
  return (
    <figure className={classes(styles.frame, styles[shape])}>
      {/* biome-ignore lint/performance/noImgElement: our files come in three widths already. */}
      <img
        src={`/files/${sha}-960.webp`}
        srcSet={WIDTHS.map((wide) => `/files/${sha}-${wide}.webp ${wide}w`).join(', ')}
        sizes={sizes}
        width={width}
        height={height}
        alt={alt}
        loading={first ? 'eager' : 'lazy'}
        fetchPriority={first ? 'high' : 'auto'}
        decoding="async"
      />
      {caption && <figcaption className="small quiet">{caption}</figcaption>}
    </figure>
  )
}
