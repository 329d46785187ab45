import type { OverlayName } from '#air/screens/overlay.contract'
import { classes } from '#app/_ui/classes.ts'
import { Picture } from '../overlay/picture'
import type { OverlayAir } from '../overlay/use-overlay'
import styles from './overlays.module.css'

export const GROUNDS = ['photograph', 'white', 'black'] as const
export type Ground = (typeof GROUNDS)[number]

interface PreviewProps {
  air: OverlayAir
  shows: readonly OverlayName[]
  zone: string
  isExample: boolean
  ground: Ground
  photograph: string | null
}

/** An overlay in small, on a ground such as a camera's picture may be. */
export function Preview({ air, shows, zone, isExample, ground, photograph }: PreviewProps) {
  return (
    <div
      className={classes(styles.preview, styles[ground])}
      style={ground === 'photograph' && photograph ? { backgroundImage: `url(/files/${photograph}-960.webp)` } : undefined}
    >
      <Picture air={air} shows={shows} zone={zone} isExample={isExample} />
    </div>
  )
}
