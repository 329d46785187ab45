import { Notice } from '#app/_ui/notice.tsx'
import type { ContactsView } from '#end/deletion/deletion.contract'
import styles from './contacts.module.css'

/** What is not deleted, each with the reason, and addresses in the journal, which is never changed. */
export function WhatStays({ stays, inJournal }: Pick<ContactsView, 'stays' | 'inJournal'>) {
  return (
    <section className="stack" aria-labelledby="stays">
      <h2 id="stays">What stays, and why</h2>
      <dl className={styles.stays}>
        {stays.map(({ what, why }) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{why}</dd>
          </div>
        ))}
      </dl>
      {inJournal.length > 0 && (
        <Notice tone="doubt" title="An address was typed into the journal">
          <p>No entry is ever changed, so it stays there:</p>
          <ul>
            {inJournal.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Notice>
      )}
    </section>
  )
}
