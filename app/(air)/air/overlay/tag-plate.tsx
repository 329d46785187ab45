import type { AirLot } from '#air/screens/host.rules'
import { classes } from '#app/_ui/classes.ts'
import plate from './plate.module.css'
import styles from './tag-plate.module.css'

interface TagPlateProps {
  lot: Pick<AirLot, 'number' | 'unit' | 'title'>
  /** Less high, where a record stands below it. */
  low?: boolean
}

/** The lot's tag: its number, its unit, its title. */
export function TagPlate({ lot, low }: TagPlateProps) {
  return (
    <div className={classes(styles.tag, low && styles.low)}>
      <span className={styles.eyelet} aria-hidden="true" />
      <p className={plate.code}>
        Lot {lot.number} · {lot.unit}
      </p>
      <p className={classes(plate.main, plate.title)}>{lot.title}</p>
    </div>
  )
}
