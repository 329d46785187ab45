import type { PageCredits } from '#gifts/credits/credits.contract'
import styles from './credits.module.css'

/** Names as they are credited, and how many friends. */
export function Names({ credits: { names, friends } }: { credits: PageCredits }) {
  return (
    <ul className={styles.names}>
      {names.map((name) => (
        <li key={name}>{name}</li>
      ))}
      {friends > 0 && <li className="quiet">and {friends === 1 ? 'a friend' : `${friends} friends`}</li>}
    </ul>
  )
}
