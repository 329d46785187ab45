import { Chip } from '#app/_ui/chip.tsx'
import { When } from '#app/_ui/when.tsx'
import { CAUSE_WORDS, type FaultCard, type SeenView } from '#bench/faults/fault.contract'
import styles from './fault.module.css'

/** What stands and speaks for or against blocks; the failures first. */
export function Evidence({ seen }: { seen: readonly SeenView[] }) {
  const failed = seen.filter((one) => one.failed)
  const passed = seen.filter((one) => !one.failed)
  return (
    <section className="sheet stack" aria-labelledby="evidence">
      <h2 id="evidence">What was seen</h2>
      {failed.length === 0 ? <p>No current check fails.</p> : <List seen={failed} />}
      <details>
        <summary>{passed.length === 1 ? 'One check passes' : `${passed.length} checks pass`}</summary>
        <List seen={passed} />
      </details>
    </section>
  )
}

function List({ seen }: { seen: readonly SeenView[] }) {
  return (
    <ul className={styles.reasons}>
      {seen.map(({ check, title, entry, failed, isWhileSearching }) => (
        <li key={check}>
          <span className="code">{check}</span> {title}: <span className="num">{entry}</span>{' '}
          <Chip tone={failed ? 'bad' : 'ok'}>{failed ? 'Fails' : 'Passes'}</Chip>
          {isWhileSearching && <span className="small quiet"> taken while searching</span>}
        </li>
      ))}
    </ul>
  )
}

/** Faults that were found: they sharpen where to look next time. */
export function EarlierFaults({ earlier, zone }: { earlier: readonly FaultCard[]; zone: string }) {
  if (earlier.length === 0) return null
  return (
    <section className="sheet stack" aria-labelledby="earlier">
      <h2 id="earlier">Faults that were found</h2>
      <ul className={styles.reasons}>
        {earlier.map(({ id, symptom, closed }) => (
          <li key={id}>
            <b>{symptom}</b>
            {closed && (
              <>
                . {CAUSE_WORDS[closed.cause]}
                {closed.block !== null && `, in ${closed.block}`}
                {closed.designator !== null && ` at ${closed.designator}`}. {closed.changed}.{' '}
                <span className="quiet">
                  {closed.minutes} min, closed <When at={closed.at} zone={zone} />
                </span>
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}
