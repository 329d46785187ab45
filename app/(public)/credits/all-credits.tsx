'use client'

import Link from 'next/link'
import { api } from '#app/_trpc/client.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { CampaignCredits } from '#gifts/credits/credits.contract'
import styles from './credits.module.css'
import { Names } from './names'
import { TextToCopy } from './text-to-copy'
import { useCredits } from './use-credits'

/** Everyone, then machine by machine; followed while the page is open. */
export function AllCredits({ initial }: { initial: CampaignCredits }) {
  const credits = useCredits(initial, () => api.credits.all.query())
  if (!credits) return <p className="quiet">The names are being reloaded.</p>
  if (credits.all.names.length === 0 && credits.all.friends === 0) {
    return (
      <EmptyState title="Nobody is named here yet.">
        <p>Everyone whose gift is in a machine, or helped to make one, is named here if they agreed to it.</p>
      </EmptyState>
    )
  }
  return (
    <>
      <section aria-labelledby="everyone" className="stack">
        <h2 id="everyone">Everyone</h2>
        <Names credits={credits.all} />
        {credits.forAll.line !== '' && (
          <p>
            <b>Time, postage or money for all of the machines:</b> {credits.forAll.line}.
          </p>
        )}
      </section>
      {credits.lots.length > 0 && (
        <section aria-labelledby="by-lot" className="stack">
          <h2 id="by-lot">By machine</h2>
          <ul className={styles.lots}>
            {credits.lots.map(({ number, title, unit, line }) => (
              <li key={number}>
                <Tag code={`Lot ${number} · ${unit}`} href={`/credits/lots/${number}`}>
                  <p>{title}</p>
                  <p className="small">{line || 'Nobody is named here for it.'}</p>
                </Tag>
              </li>
            ))}
          </ul>
        </section>
      )}
      <TextToCopy text={credits.text} address="/credits" />
      <p className="small">
        Have you given something? Say whether and how you are named on <Link href="/yours">your own page</Link>.
      </p>
    </>
  )
}
