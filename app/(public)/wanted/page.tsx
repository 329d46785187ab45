import type { Metadata } from 'next'
import { listWords } from '../../../server/donors/gift.rules'
import { api } from '../../_trpc/server'
import { Chip } from '../../_ui/chip'
import { EmptyState } from '../../_ui/empty-state'
import { PromiseForm } from './promise-form'
import styles from './wanted.module.css'

export const metadata: Metadata = {
  title: 'Wanted',
  description: 'Parts that are still needed to finish the machines, how many, and for which machine.',
}

export default async function WantedPage({ searchParams }: { searchParams: Promise<{ part?: string }> }) {
  const { part } = await searchParams
  const caller = await api()
  const [wanted, campaign] = await Promise.all([caller.parts.wanted(), caller.campaign.open()])
  return (
    <div className="page stack wide">
      <div className="stack close">
        <h1>Still wanted</h1>
        <p>
          These parts stand between the bench and finished machines
          {campaign?.causeName ? `, which are sold for ${campaign.causeName}` : ''}. If one lies in your drawer, promise it here. Where to
          send it comes by mail once the maker has said yes.
        </p>
      </div>
      {wanted.length === 0 ? (
        <EmptyState title="Nothing is wanted just now.">
          <p>Every part that is still missing was promised by somebody. Thank you.</p>
        </EmptyState>
      ) : (
        <div className={styles.two}>
          <section aria-labelledby="list">
            <h2 id="list" className="visually-hidden">
              The list
            </h2>
            <ul className={`plain-list ${styles.wanted}`}>
              {wanted.map((line) => (
                <li key={line.partId} className={styles.line}>
                  <p className={styles.count}>
                    {line.quantity}
                    <span className="visually-hidden"> wanted:</span>
                  </p>
                  <div className="stack close">
                    <h3>
                      {line.what} {line.hardToFind && <Chip tone="doubt">Hard to find</Chip>}
                    </h3>
                    <p className="small">
                      for {listWords(line.designs, 'and')}:{' '}
                      {line.units.length === 1 ? 'one machine waits' : `${line.units.length} machines wait`}
                      {line.promised > 0 && `; ${line.promised} more promised already`}
                    </p>
                    <p>
                      <a href={`/wanted?part=${line.partId}#promise`}>
                        Promise some<span className="visually-hidden"> of {line.what}</span>
                      </a>
                    </p>
                  </div>
                </li>
              ))}
            </ul>
          </section>
          <section id="promise" className="sheet act stack" aria-labelledby="promise-head">
            <h2 id="promise-head">Promise a part</h2>
            <PromiseForm
              key={part}
              parts={wanted.map(({ partId, what, quantity }) => ({ partId, what, quantity }))}
              chosen={wanted.some((line) => line.partId === part) ? part : undefined}
            />
          </section>
        </div>
      )}
    </div>
  )
}
