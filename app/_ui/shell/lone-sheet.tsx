import type { ReactNode } from 'react'
import styles from './lone-sheet.module.css'

/** A page without header and footer: all that it says stands in one column. */
export const LoneSheet = ({ children }: { children: ReactNode }) => (
  <main id="main" className={styles.sheet}>
    {children}
  </main>
)
