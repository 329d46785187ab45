import { When } from '#app/_ui/when.tsx'
import type { TimelineEntry } from '#bench/units/view.contract'
import styles from './record-sheet.module.css'

/** All that happened to the machine, the latest first. Nothing in it is ever edited. */
export function TimelineList({ entries, zone }: { entries: readonly TimelineEntry[]; zone: string }) {
  const shown = entries.slice(0, 40)
  return (
    <>
      {shown.length === 0 ? (
        <p className="quiet">Nothing yet.</p>
      ) : (
        <ol className={styles.timeline}>
          {shown.map((entry) => (
            <li key={`${entry.at} ${entry.kind} ${entry.words}`} data-tone={entry.tone}>
              <span className={styles.at}>
                <When at={entry.at} zone={zone} brief /> · {entry.by}
              </span>
              <span>
                <b>{entry.kind === 'reading' ? '' : `${entry.kind} `}</b>
                {entry.words}
              </span>
            </li>
          ))}
        </ol>
      )}
      {entries.length > shown.length && <p className="small quiet">{entries.length - shown.length} earlier entries are in the record.</p>}
    </>
  )
}
