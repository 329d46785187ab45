import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { Gauge } from '#app/_ui/gauge.tsx'
import { When } from '#app/_ui/when.tsx'
import type { Instant } from '#kernel/instant'
import type { VitalView } from '#people/vitals/vitals.contract'
import { figureOf } from './figure.rules'
import { HoursStrip } from './hours-strip'
import styles from './house.module.css'
import { STANDINGS } from './standing.rules'

/** One of what is watched: how it stands, the figure against its limit, the last hours, and what to do. */
export function VitalSheet({ vital, now, zone }: { vital: VitalView; now: Instant; zone: string }) {
  const { name, standing, words, toDo, since, letter, pieces } = vital
  const figure = figureOf(vital)
  return (
    <article className={`sheet ${styles.vital}`}>
      <div className="stack close">
        <div className="row apart">
          <h2>{name}</h2>
          <Chip tone={STANDINGS[standing].tone}>{STANDINGS[standing].word}</Chip>
        </div>
        <p>{words}</p>
        {toDo && (
          <p>
            <strong>What to do:</strong> {toDo}
          </p>
        )}
        {standing !== 'good' && (
          <p className="small quiet">
            Since <When at={since} zone={zone} brief />. <LetterLine letter={letter} />
          </p>
        )}
      </div>
      <div className={`stack close ${styles.pictures}`}>
        {figure && (
          <>
            <p className={styles.figure}>{figure.shown}</p>
            <Gauge name={name} {...figure} verdict={STANDINGS[standing].verdict} />
          </>
        )}
        <HoursStrip name={name} pieces={pieces} now={now} />
      </div>
    </article>
  )
}

function LetterLine({ letter }: { letter: VitalView['letter'] }) {
  if (letter === 'none') return null
  if (letter === 'written') return 'The makers have been written to.'
  if (letter === 'to be written') return 'The makers are written to if it lasts a minute and the letter can be stored.'
  return (
    <>
      The letter about it waits in the <Link href="/bench/outbox">outbox</Link>, since no email is going out.
    </>
  )
}
