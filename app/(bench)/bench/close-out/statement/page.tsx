import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { otherParts, tableOfLots } from '#end/statement/statement-words.rules'
import { insteadOf } from '../for-whom'
import { InAll } from './in-all'
import { LotTable } from './lot-table'
import { PartTable } from './part-table'
import styles from './statement.module.css'

export const metadata: Metadata = { title: 'Statement for the cause' }

/** The account given to the cause, with every line behind every sum, and as a paper. */
export default async function StatementPage() {
  const instead = await insteadOf('Statement for the cause', ['maker', 'treasurer'])
  if (instead) return instead
  const account = await (await api()).statement.account()
  if (!account) return null
  const { currency, parts } = account
  const lots = tableOfLots(parts)
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>Statement for {account.causeName || 'the cause'}</h1>
        {account.causeRegistration && <p className="quiet">Registered as {account.causeRegistration}</p>}
        <p className="row">
          <a className="button" href="/bench/close-out/statement.pdf">
            PDF, A4
          </a>
          <a className="button-line" href="/bench/close-out/statement.pdf?paper=letter">
            PDF, Letter
          </a>
          <a className="button-line" href="/bench/close-out/statement.csv" download>
            CSV
          </a>
        </p>
      </header>
      <InAll account={account} />
      <div className={styles.parts}>
        {lots && <LotTable table={lots} currency={currency} />}
        {account.lotNotes.length > 0 && (
          <section className="stack close" aria-labelledby="why">
            <h2 id="why">Why a lot shows another figure than its hammer price</h2>
            <ul>
              {account.lotNotes.map(({ lot, words }) => (
                <li key={`${lot} ${words}`}>
                  <Link prefetch={false} href={`/lots/${lot}`}>
                    Lot {lot}
                  </Link>
                  : {words}
                </li>
              ))}
            </ul>
          </section>
        )}
        {account.rounding.length > 0 && (
          <section className="stack close" aria-labelledby="rounding">
            <h2 id="rounding">Rounding</h2>
            <ul>
              {account.rounding.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </section>
        )}
        {otherParts(parts).map((part) => (
          <PartTable key={part.key} part={part} currency={currency} />
        ))}
      </div>
    </div>
  )
}
