import Link from 'next/link'
import type { ReactNode } from 'react'
import { classes } from './classes'
import styles from './tag.module.css'
import type { Tone } from './tone'

export interface TagProps {
  /** What is printed on the tag: "TERN-03", "LOT 7", "B-0147". */
  code: string
  /** Where the code leads, when the tag names something that has a page. */
  href?: string
  /** `small` is the code alone, as it hangs on a wire; `card` carries a title or more. */
  size?: 'small' | 'card'
  /** The colour of the edge. What it says must also stand beside the tag in words. */
  tone?: Tone
  /** Stands at the right of the code: a chip, as a rule. */
  aside?: ReactNode
  children?: ReactNode
}

/** A paper tag: two clipped corners, an eyelet, a code in mono capitals. */
export function Tag({ code, href, size = 'card', tone = 'plain', aside, children }: TagProps) {
  const printed = <span className={classes('code', styles.code)}>{code}</span>
  return (
    <div className={classes(styles.tag, styles[size], styles[tone])}>
      <div className={styles.edge}>
        <div className={styles.face}>
          <span className={styles.eyelet} aria-hidden="true" />
          <div className={styles.head}>
            {href ? (
              <Link prefetch={false} href={href} className={styles.link}>
                {printed}
              </Link>
            ) : (
              printed
            )}
            {aside}
          </div>
          {children}
        </div>
      </div>
    </div>
  )
}
