import type { ReactNode } from 'react'
import styles from './text-button.module.css'

interface TextButtonProps {
  label?: string
  /** What its form is sent with where no scripts run; there it does nothing without. */
  submits?: string
  press(): void
  children: ReactNode
}

/** A button among words: it reads as a link does, and does something where it stands. */
export function TextButton({ label, submits, press, children }: TextButtonProps) {
  return (
    <button
      type={submits === undefined ? 'button' : 'submit'}
      name={submits}
      value={submits && '1'}
      className={styles.textButton}
      aria-label={label}
      onClick={(event) => {
        event.preventDefault()
        press()
      }}
    >
      {children}
    </button>
  )
}
