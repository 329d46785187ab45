import type { ReactNode } from 'react'
import styles from './bench-bar.module.css'

/** What a page of the bench is about; on a phone it ends above the bar. */
export const BenchMain = ({ children }: { children: ReactNode }) => (
  <main id="main" tabIndex={-1} className={styles.main}>
    {children}
  </main>
)
