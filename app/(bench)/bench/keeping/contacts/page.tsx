import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { insteadOf } from '../for-whom'
import styles from '../keeping.module.css'
import { ForgetForm } from './forget-form'
import { People } from './people'
import { TermForm } from './term-form'

export const metadata: Metadata = { title: 'Contact data' }

/** What would be deleted, of whom, what stays and why: all of it is read before it is done. */
export default async function ContactsPage() {
  const instead = await insteadOf('Contact data', ['maker'])
  if (instead) return instead
  const caller = await api()
  const [view, { backups, packs }] = await Promise.all([caller.keeping.contacts(), caller.keeping.packs()])
  const { steps, bidders, donors, photographs, stays, inJournal, deletions, refusedBecause, dueAt, zone } = view
  const kept = packs.filter(({ isHere, withContacts }) => isHere && withContacts)
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>Contact data</h1>
        <p>
          How to reach people is kept while it is needed, and then deleted.{' '}
          {dueAt !== null && (
            <>
              The term is over on <b>{<When at={dueAt} zone={zone} show="day" />}</b>, {view.days} days after the stream.
            </>
          )}
        </p>
      </header>
      <TermForm days={view.days} />
      {steps.length === 0 ? (
        <EmptyState title="There is no contact data here." />
      ) : (
        <section className="stack" aria-labelledby="goes">
          <h2 id="goes">What would be deleted</h2>
          <table className={styles.kinds}>
            <caption>By kind</caption>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col" className="num">
                  How many
                </th>
              </tr>
            </thead>
            <tbody>
              {steps.map(({ key, what, count }) => (
                <tr key={key}>
                  <th scope="row">{what}</th>
                  <td className="num">{count}</td>
                </tr>
              ))}
              {photographs > 0 && (
                <tr>
                  <th scope="row">files of such photographs</th>
                  <td className="num">{photographs}</td>
                </tr>
              )}
            </tbody>
          </table>
          <People
            title="Bidders"
            people={bidders.map(({ id, name, mail, bought }) => ({ id, name, mail, keeps: bought ? 'name stays with the books' : '' }))}
          />
          <People title="Donors" people={donors.map(({ id, name, mail }) => ({ id, name, mail, keeps: '' }))} />
        </section>
      )}
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
      <section className="stack" aria-labelledby="copies">
        <h2 id="copies">Copies elsewhere</h2>
        <p>
          {backups.length === 0
            ? 'No backup stands beside the database.'
            : `${backups.length === 1 ? 'One backup stands' : `${backups.length} backups stand`} in the folder “backups” of the data folder, and hold everything as it was. Delete them there afterwards, then make a new one:`}
        </p>
        {backups.length > 0 && (
          <ul className={styles.digest}>
            {backups.map((name) => (
              <li key={name}>backups/{name}</li>
            ))}
          </ul>
        )}
        <p>
          Backups that you copied to other disks, packs that were downloaded and mails in mailboxes are yours to delete.{' '}
          {kept.length > 0 &&
            `${kept.length === 1 ? 'One pack' : `${kept.length} packs`} with contact data ${kept.length === 1 ? 'is' : 'are'} kept here and will be deleted with the rest.`}
        </p>
      </section>
      {steps.length > 0 &&
        (refusedBecause ? (
          <Notice tone="info" title="Not now">
            <p>{refusedBecause}</p>
          </Notice>
        ) : (
          <ForgetForm campaign={view.campaign} shown={view.shown} />
        ))}
      {deletions.map(({ id, at, counts }) => (
        <Notice key={id} tone="ok" title="Contact data was deleted">
          <p>
            On <When at={at} zone={zone} />:{' '}
            {Object.entries(counts)
              .map(([what, count]) => `${count} ${what}`)
              .join('; ')}
            .
          </p>
        </Notice>
      ))}
    </div>
  )
}
