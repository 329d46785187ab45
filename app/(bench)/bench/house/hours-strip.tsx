import type { Instant } from '#kernel/instant'
import type { Piece } from '#runtime/vitals/vital'
import { placesOf, sayHours } from './hours.rules'
import styles from './house.module.css'

const HEIGHTS = { good: 4, look: 9, bad: 16 } as const

/** The last six hours from left to right, a bar for each five minutes: the higher, the worse. */
export function HoursStrip({ name, pieces, now }: { name: string; pieces: readonly Piece[]; now: Instant }) {
  return (
    <div>
      <svg className={styles.strip} viewBox="0 0 216 16" preserveAspectRatio="none" role="img" aria-label={sayHours(name, pieces)}>
        {placesOf(pieces, now).map(({ at, standing, place }) => (
          <rect key={at} className={styles[standing]} x={place * 3} y={16 - HEIGHTS[standing]} width={2} height={HEIGHTS[standing]} />
        ))}
      </svg>
      <p className={`row apart small quiet ${styles.ends}`} aria-hidden="true">
        <span>6 hours ago</span>
        <span>now</span>
      </p>
    </div>
  )
}
