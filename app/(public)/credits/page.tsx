import type { Metadata } from 'next'
import { api } from '../../_trpc/server'
import { EmptyState } from '../../_ui/empty-state'
import { Tag } from '../../_ui/tag'
import styles from './credits.module.css'

export const metadata: Metadata = { title: 'Credits', description: 'Everyone whose gift is in these machines, or helped to make them.' }

/** Computed anew for every reader: who withdraws consent is not here any more. */
export default async function CreditsPage() {
  const credits = await (await api()).credits.all()
  if (!credits || (credits.all.names.length === 0 && credits.all.friends === 0)) {
    return (
      <div className="page stack">
        <h1>Credits</h1>
        <EmptyState title="Nobody is named here yet.">
          <p>Everyone whose gift is in a machine, or helped to make one, stands here, if they agreed to it.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <h1>Credits</h1>
      <p>
        These machines were made from gifts. Everyone stands here by name, with the same weight for a case, a chip or an afternoon’s help.
      </p>
      <section aria-labelledby="everyone" className="stack">
        <h2 id="everyone">Everyone</h2>
        <ul className={styles.names}>
          {credits.all.names.map((name) => (
            <li key={name}>{name}</li>
          ))}
          {credits.all.friends > 0 && (
            <li className="quiet">and {credits.all.friends === 1 ? 'a friend' : `${credits.all.friends} friends`}</li>
          )}
        </ul>
      </section>
      {credits.lots.length > 0 && (
        <section aria-labelledby="by-lot" className="stack">
          <h2 id="by-lot">By machine</h2>
          <ul className={styles.lots}>
            {credits.lots.map(({ number, title, unit, line }) => (
              <li key={number}>
                <Tag code={`Lot ${number} · ${unit}`} href={`/lots/${number}`}>
                  <p>{title}</p>
                  <p className="small">{line || 'Nobody behind it is named here.'}</p>
                </Tag>
              </li>
            ))}
          </ul>
        </section>
      )}
      <details>
        <summary>As text, for the description of a video</summary>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a block that scrolls must take the focus */}
        <pre className={styles.text} tabIndex={0}>
          {credits.text}
        </pre>
      </details>
    </div>
  )
}
