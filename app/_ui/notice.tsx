import type { ReactNode } from 'react'
import { classes } from './classes'
import styles from './notice.module.css'
import type { Tone } from './tone'
import { ToneMark } from './tone-mark'

export type NoticeTone = 'info' | 'ok' | 'doubt' | 'bad'

export interface NoticeProps {
  tone?: NoticeTone
  title?: string
  children?: ReactNode
  /** `status` is read out politely when it appears, `alert` at once ("outbid", "extended"). */
  live?: 'status' | 'alert'
}

const MARKS: Record<NoticeTone, Tone> = { info: 'copper', ok: 'ok', doubt: 'doubt', bad: 'bad' }

/** Something the page has to say before anything else. */
export function Notice({ tone = 'info', title, children, live }: NoticeProps) {
  return (
    <div className={classes(styles.notice, styles[tone])} role={live}>
      <span className={styles.mark}>
        <ToneMark tone={MARKS[tone]} size={16} />
      </span>
      <div className={styles.body}>
        {title && <p className={styles.title}>{title}</p>}
        {children && <div className={styles.words}>{children}</div>}
      </div>
    </div>
  )
}
