import type { Advice } from '#air/screens/advice.rules'
import { classes } from '#app/_ui/classes.ts'
import styles from './host.module.css'

/** More cannot be taken in at a glance. */
const MOST = 2

/** Stretch or cut, by how much and with what. */
export function AdviceLine({ advice }: { advice: Advice }) {
  const mark = { stretch: '↔', cut: '✂', even: '✓' }[advice.kind]
  return (
    <section className={classes(styles.advice, advice.kind === 'cut' && styles.cut)} aria-label="Stretch or cut">
      <p>
        <span aria-hidden="true">{mark}</span> <b>{advice.words}</b>{' '}
        {advice.parts
          .slice(0, MOST)
          .map(({ words, minutes }) => `${words} (${minutes} min)`)
          .join(' · ')}
      </p>
    </section>
  )
}
