import Link from 'next/link'
import styles from './checklist.module.css'
import type { Tone } from './tone'
import { ToneMark } from './tone-mark'

export interface ChecklistItem {
  key: string
  title: string
  state: 'done' | 'open' | 'not-yet'
  words: string
  href: string
  link: string
}

const TONES: Record<ChecklistItem['state'], Tone> = { done: 'ok', open: 'copper', 'not-yet': 'plain' }

export interface ChecklistProps {
  items: readonly ChecklistItem[]
  /** What each state is called: "To do". */
  says: Record<ChecklistItem['state'], string>
  /** Whether its reader may go where an item leads. */
  mayOpen?: (item: ChecklistItem) => boolean
}

/** What is to be done, in its order, and what of it is done; nothing is ticked by hand. */
export function Checklist({ items, says, mayOpen = () => true }: ChecklistProps) {
  return (
    <ol className={styles.checks}>
      {items.map((item) => (
        <li key={item.key} className={styles[item.state]}>
          <span className={styles.mark}>
            <ToneMark tone={TONES[item.state]} size={18} />
          </span>
          <div className={styles.words}>
            <h2>{item.title}</h2>
            <p>
              <b>{says[item.state]}.</b> {item.words}
            </p>
          </div>
          {mayOpen(item) && (
            <Link prefetch={false} href={item.href} aria-label={`${item.link}: ${item.title}`}>
              {item.link}
            </Link>
          )}
        </li>
      ))}
    </ol>
  )
}
