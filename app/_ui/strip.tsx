'use client'

import { classes } from './classes'
import styles from './strip.module.css'
import { type Reached, STAGES, sayStrip } from './strip.rules'

export interface StripProps {
  reached: Reached
  /** The unit's tag, for the sentence that is read out. */
  name?: string
}

/**
 * How far a machine has come: a wire along six screw terminals. Where it is clamped the screw is
 * filled and turned along the wire; where it is not, the screw stands open across it.
 */
export function Strip({ reached, name }: StripProps) {
  return (
    <div className={styles.strip} role="img" aria-label={sayStrip(reached, name)}>
      {STAGES.map((stage, index) => (
        <div key={stage} className={classes(styles.cell, index < reached && styles.reached, index === reached - 1 && styles.last)}>
          <svg className={styles.terminal} viewBox="0 0 40 40" aria-hidden="true">
            <path className={styles.body} d="M5 8Q5 4 9 4H31Q35 4 35 8V28L31 33H9L5 28Z" />
            <circle className={styles.screw} cx="20" cy="18" r="10" />
            <path className={styles.slot} d={index < reached ? 'M13 19.5L27 16.5' : 'M16.5 11.5L23.5 24.5'} />
          </svg>
          <span className={styles.word}>{stage}</span>
        </div>
      ))}
    </div>
  )
}
