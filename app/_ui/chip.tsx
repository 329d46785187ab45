import type { ReactNode } from 'react'
import styles from './chip.module.css'
import { classes } from './classes'
import type { Tone } from './tone'
import { ToneMark } from './tone-mark'

/** An adjective in sentence case; never pressed. Its shape says the tone to those who do not see the colour. */
export function Chip({ tone = 'plain', children }: { tone?: Tone; children: ReactNode }) {
  return (
    <span className={classes(styles.chip, styles[tone])}>
      {tone !== 'plain' && <ToneMark tone={tone} />}
      {children}
    </span>
  )
}
