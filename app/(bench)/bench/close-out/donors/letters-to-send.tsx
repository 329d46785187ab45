import { EmptyState } from '#app/_ui/empty-state.tsx'
import type { LastLettersView } from '#end/last-letters/last-letters.contract'
import styles from './donors.module.css'
import { SendAll } from './send-all'

/** Each letter as it would be sent, closed at first, with what sends all of them above it. */
export function LettersToSend({ letters }: { letters: Pick<LastLettersView, 'toSend' | 'refusedBecause' | 'shown'> }) {
  const { toSend, refusedBecause, shown } = letters
  return (
    <section className="stack" aria-labelledby="to-send">
      <h2 id="to-send">{toSend.length === 1 ? 'One letter' : `${toSend.length} letters`}</h2>
      {toSend.length === 0 ? (
        <EmptyState title="Everybody who can be told has been told." />
      ) : (
        <>
          {!refusedBecause && <SendAll count={toSend.length} shown={shown} />}
          <ul className={styles.letters}>
            {toSend.map(({ donorId, name, subject, body }) => (
              <li key={donorId}>
                <details>
                  <summary>{name}</summary>
                  <p>
                    <b>{subject}</b>
                  </p>
                  <pre>{body}</pre>
                </details>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
