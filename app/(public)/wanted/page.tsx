import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { PromiseForm } from './promise-form'
import { byMachine, isUrgent, urgencyWords } from './urgency.rules'
import styles from './wanted.module.css'

export const metadata: Metadata = {
  title: 'Wanted',
  description: 'Parts that are still needed to finish the machines, how many, and for which machine.',
}

export default async function WantedPage({ searchParams }: { searchParams: Promise<{ part?: string | string[] }> }) {
  const { part } = await searchParams
  const caller = await api()
  const [wanted, campaign] = await Promise.all([caller.buildable.wanted(), caller.campaign.open()])
  const machines = byMachine(wanted)
  const chosen = wanted.find((line) => line.partId === part)?.partId
  return (
    <div className="page stack wide">
      <div className="stack close">
        <h1>Still wanted</h1>
        <p>
          These parts stand between the bench and finished machines
          {campaign?.causeName ? `, which are sold for ${campaign.causeName}` : ''}. If you have one in a drawer, promise it here. We email
          you where to send it once the maker has said yes.
        </p>
        {machines.length > 1 && (
          <nav aria-label="By machine" className="row">
            {machines.map(({ design, lines }, index) => (
              <a key={design} href={`#machine-${index}`}>
                {design} ({lines.length})
              </a>
            ))}
          </nav>
        )}
      </div>
      <div className={styles.two}>
        <div className="stack wide">
          {wanted.length === 0 && (
            <EmptyState title="No part is wanted just now.">
              <p>Somebody has promised every part that is still missing. Thank you. You can still offer something else here.</p>
            </EmptyState>
          )}
          {machines.map(({ design, lines }, index) => (
            <section key={design} id={`machine-${index}`} aria-labelledby={`machine-${index}-head`} className="stack close">
              <h2 id={`machine-${index}-head`}>For {design}</h2>
              <ul className={`plain-list ${styles.wanted}`}>
                {lines.map((line) => (
                  <li key={line.partId} className={styles.line}>
                    <p className={styles.count}>
                      {line.quantity}
                      <span className="visually-hidden"> wanted:</span>
                    </p>
                    <div className="stack close">
                      <h3>
                        {line.what} {line.hardToFind && <Chip tone="doubt">Hard to find</Chip>}
                      </h3>
                      <p className={isUrgent(line) ? styles.urgent : 'small'}>
                        {urgencyWords(line)}
                        {line.promised > 0 && `; ${line.promised} more already promised`}.
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
          ))}
        </div>
        <section id="promise" className="sheet act stack" aria-labelledby="promise-head">
          <h2 id="promise-head">Promise something</h2>
          <PromiseForm key={chosen} parts={wanted.map(({ partId, what, quantity }) => ({ partId, what, quantity }))} chosen={chosen} />
        </section>
      </div>
    </div>
  )
}
