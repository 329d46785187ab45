import type { Advice, AdviceAct, AdvicePart } from '#air/screens/advice.rules'
import { api } from '#app/_trpc/client.ts'
import { classes } from '#app/_ui/classes.ts'
import { END_REASON } from './end-later-form'
import styles from './host.module.css'
import type { Pending } from './use-grace'

/** More cannot be taken in at a glance. */
const MOST = 3

/** Stretch or cut, by how much and with what; what changes the day is a button. */
export function AdviceLine({ advice, begin }: { advice: Advice; begin(pending: Pending): void }) {
  const mark = { stretch: '↔', cut: '✂', even: '✓' }[advice.kind]
  return (
    <section className={classes(styles.advice, advice.kind === 'cut' && styles.cut)} aria-label="Stretch or cut">
      <p>
        <span aria-hidden="true">{mark}</span> <b>{advice.words}</b>{' '}
        {advice.parts.slice(0, MOST).map((part) => (
          <Part key={part.words} part={part} begin={begin} />
        ))}
      </p>
    </section>
  )
}

function Part({ part: { words, minutes, act }, begin }: { part: AdvicePart; begin(pending: Pending): void }) {
  const said = `${words} (${minutes} min)`
  if (!act) return <span className={styles.part}>{said}</span>
  return (
    <button type="button" className="button-line" onClick={() => begin({ words: said, run: () => doIt(act) })}>
      {said}
    </button>
  )
}

const SHORT_REASON = 'The day runs late.'
const LONG_REASON = 'There is time for more.'

function doIt(act: AdviceAct): Promise<unknown> {
  if (act.kind === 'drop') return api.programme.remove.mutate({ itemId: act.itemId })
  if (act.kind === 'shorten') return api.programme.shorten.mutate({ itemId: act.itemId, minutes: act.minutes, reason: SHORT_REASON })
  if (act.kind === 'lengthen') return api.programme.lengthen.mutate({ itemId: act.itemId, minutes: act.minutes, reason: LONG_REASON })
  return api.programme.endLater.mutate({ minutes: act.minutes, reason: END_REASON })
}
