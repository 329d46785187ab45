import { classes } from './classes'
import styles from './dayline.module.css'
import { type Day, placeDay, sayDay } from './dayline.rules'

const percent = (fraction: number) => `${(fraction * 100).toFixed(2)}%`

/** The stream day as a line: closings as posts, this lot's the tall one, a bead for now. Times are the stream's. */
export function Dayline(day: Day) {
  const places = placeDay(day)
  const here = places.marks.find(({ kind }) => kind === 'this')
  return (
    <div className={styles.dayline} role="img" aria-label={sayDay(places)}>
      <div className={styles.line}>
        <span className={styles.gone} style={{ width: percent(places.now) }} />
        {places.marks.map((mark) => (
          <span
            key={`${mark.at}-${mark.label}`}
            className={classes(styles.mark, styles[mark.kind])}
            style={{ left: percent(mark.place) }}
          />
        ))}
        {places.dot !== null && <span className={styles.dot} style={{ left: percent(places.dot) }} />}
      </div>
      <div className={styles.times}>
        {places.showFrom && <span>{places.from}</span>}
        {here && (
          <b className={styles.here} style={{ left: percent(Math.min(0.93, Math.max(0.07, here.place))) }}>
            {here.time}
          </b>
        )}
        {places.showTo && <span className={styles.to}>{places.to}</span>}
      </div>
    </div>
  )
}
