import type { ReactNode, Ref } from 'react'
import { classes } from './classes'
import styles from './dialog.module.css'

interface DialogProps {
  ref: Ref<HTMLDialogElement>
  /** The heading in it that names it. */
  titleId: string
  /** `first` where it destroys nothing and only asks for more. */
  kind: 'bad' | 'first'
  onClose?: () => void
  children: ReactNode
}

/** A question over the page, which waits beneath as it is. */
export function Dialog({ ref, titleId, kind, onClose, children }: DialogProps) {
  return (
    <dialog ref={ref} className={classes(styles.dialog, kind === 'first' && styles.asks)} aria-labelledby={titleId} onClose={onClose}>
      {children}
    </dialog>
  )
}
