import type { ReactNode } from 'react'
import styles from './text-button.module.css'

/** A button among words: it reads as a link does, and does something where it stands. */
export function TextButton({ label, press, children }: { label?: string; press(): void; children: ReactNode }) {
  return (
    <button type="button" className={styles.textButton} aria-label={label} onClick={() => press()}>
      {children}
    </button>
  )
}
