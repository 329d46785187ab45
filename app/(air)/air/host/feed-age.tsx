import styles from './host.module.css'

/** A beat comes every five seconds; beyond this the feed is late and the figures may be old. */
const LATE_AFTER = 10_000
const DROPPED_AFTER = 4_000

export function FeedAge({ silentFor, connected }: { silentFor: number | null; connected: boolean }) {
  const isLate = silentFor !== null && (silentFor > LATE_AFTER || (!connected && silentFor > DROPPED_AFTER))
  if (silentFor === null) return <span className={styles.feedLate}>connecting</span>
  if (isLate) {
    return (
      <span className={styles.feedLate} role="alert">
        ▲ {Math.round(silentFor / 1000)} s old: do not call anything
      </span>
    )
  }
  return <span className={styles.feed}>● live</span>
}
