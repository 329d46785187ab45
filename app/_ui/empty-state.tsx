import type { ReactNode } from 'react'
import styles from './empty-state.module.css'

export interface EmptyStateProps {
  /** What is not here yet: "No parcel has come yet." */
  title: string
  /** What to do first. */
  children?: ReactNode
  /** A link or a button that does it. */
  action?: ReactNode
}

/** A list with nothing in it says what to do first: an empty hook on the bench. */
export function EmptyState({ title, children, action }: EmptyStateProps) {
  return (
    <div className={styles.empty}>
      <svg className={styles.hook} viewBox="0 0 48 48" aria-hidden="true">
        <path d="M24 4V20" />
        <path d="M24 20C24 26 32 26 32 33A8 8 0 0 1 16 33" />
        <circle cx="24" cy="5" r="3.5" />
      </svg>
      <div className={styles.words}>
        <p className={styles.title}>{title}</p>
        {children}
        {action && <div className="row">{action}</div>}
      </div>
    </div>
  )
}
