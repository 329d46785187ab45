import { classes } from '../classes'
import styles from './bars.module.css'

export type BarPart = 'paid' | 'won' | 'gift' | 'matched' | 'cost' | 'hours'

/** What the longest bar of a table stands for; never nought. */
export const longest = (sums: readonly number[]): number => Math.max(1, ...sums)

/** One bar, its parts end to end, as a share of the longest; what it says stands beside it as figures. */
export function Bar({ of, parts }: { of: number; parts: readonly (readonly [part: BarPart, amount: number])[] }) {
  return (
    <div className={styles.bar} aria-hidden="true">
      {parts
        .filter(([, amount]) => amount > 0)
        .map(([part, amount]) => (
          <span key={part} className={styles[part]} style={{ width: `${((100 * amount) / of).toFixed(2)}%` }} />
        ))}
    </div>
  )
}

export function Key({ parts }: { parts: readonly (readonly [part: BarPart, words: string])[] }) {
  return (
    <p className={styles.key} aria-hidden="true">
      {parts.map(([part, words]) => (
        <span key={part}>
          <i className={classes(styles.swatch, styles[part])} /> {words}
        </span>
      ))}
    </p>
  )
}
