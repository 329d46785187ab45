import { When } from '#app/_ui/when.tsx'
import type { ChangeEntry } from '#people/changes/changes.contract'
import { changeSentence, isShortened } from '#people/changes/changes.rules'
import styles from './changes-table.module.css'
import { KIND_WORDS } from './kind-words.rules'

/** One sentence for each change; what a sentence shortens opens below it. */
export function ChangesTable({ entries, zone, caption }: { entries: readonly ChangeEntry[]; zone: string; caption: string }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Change</th>
            <th scope="col">When</th>
            <th scope="col">As</th>
            <th scope="col">Kind</th>
          </tr>
        </thead>
        <tbody>
          {entries.map((entry) => (
            <tr key={entry.seq}>
              <th scope="row" className={styles.sentence}>
                <bdi>{changeSentence(entry)}</bdi>
                {isShortened(entry) && <Whole entry={entry} />}
              </th>
              <td data-label="When">
                <When at={entry.at} zone={zone} />
              </td>
              <td data-label="As">{entry.byRole ?? 'the house'}</td>
              <td data-label="Kind">{KIND_WORDS[entry.kind]}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const Whole = ({ entry: { before, after } }: { entry: ChangeEntry }) => (
  <details className="small">
    <summary>All of it</summary>
    <dl className={styles.whole}>
      {before !== '' && (
        <>
          <dt>Before</dt>
          <dd>{before}</dd>
        </>
      )}
      {after !== '' && (
        <>
          <dt>After</dt>
          <dd>{after}</dd>
        </>
      )}
    </dl>
  </details>
)
