import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { insteadOf } from '../for-whom'
import styles from '../keeping.module.css'
import { TellAll } from './tell-all'

export const metadata: Metadata = { title: 'Letters to donors' }

/** What it became, for every donor: who gets a letter and which, who gets none and why, before any of it goes. */
export default async function LettersPage() {
  const instead = await insteadOf('What it became, for every donor', ['maker'])
  if (instead) return instead
  const telling = await (await api()).keeping.telling()
  if (!telling) return null
  const { toTell, notTold, refusedBecause, shown } = telling
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>What it became, for every donor</h1>
        <p>One last letter to each, from the facts: what their gifts became and what the lots raised. No value of a gift is ever told.</p>
      </header>
      {refusedBecause && (
        <Notice tone="info" title="Not yet">
          <p>{refusedBecause} Below is what the letters would say now.</p>
        </Notice>
      )}
      <section className="stack" aria-labelledby="to-tell">
        <h2 id="to-tell">{toTell.length === 1 ? 'One letter' : `${toTell.length} letters`}</h2>
        {toTell.length === 0 ? (
          <EmptyState title="Everybody has been told who can be." />
        ) : (
          <>
            {!refusedBecause && <TellAll count={toTell.length} shown={shown} />}
            <ul className={styles.letters}>
              {toTell.map(({ donorId, name, subject, body }) => (
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
      {notTold.length > 0 && (
        <div className={styles.scroll}>
          <table className="cards">
            <caption>No letter, and why</caption>
            <thead>
              <tr>
                <th scope="col">Donor</th>
                <th scope="col">Why none</th>
              </tr>
            </thead>
            <tbody>
              {notTold.map(({ donorId, name, why }) => (
                <tr key={donorId}>
                  <th scope="row">
                    <Link prefetch={false} href={`/bench/donors/${donorId}`}>
                      {name}
                    </Link>
                  </th>
                  <td data-label="Why none">{why}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </div>
  )
}
