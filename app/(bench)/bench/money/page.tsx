import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '../../../_trpc/server'
import { EmptyState } from '../../../_ui/empty-state'
import { LiveMeter } from '../../../_ui/live-meter'
import { GiftForm } from './gift-form'
import { JournalTable } from './journal-table'
import styles from './money.module.css'
import { RemittanceForm } from './remittance-form'
import { SoldTable } from './sold-table'
import { StatementSheet } from './statement-sheet'

export const metadata: Metadata = { title: 'Money' }

/** The treasurer's page: one true figure, the lots behind it, the journal beneath. */
export default async function MoneyPage() {
  const caller = await api()
  const books = await caller.money.books()
  if (!books) {
    return (
      <div className="page">
        <h1>Money</h1>
        <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>} />
      </div>
    )
  }
  const { meter, statement, journal, mayWrite } = books
  return (
    <div className="page stack wide">
      <h1>Money</h1>
      <LiveMeter initial={meter} />
      {statement.lots.length === 0 ? (
        <EmptyState title="No hammer has fallen yet.">
          <p>Each sold lot stands here with its reference and what is still to pay.</p>
        </EmptyState>
      ) : (
        <SoldTable lots={statement.lots} currency={meter.currency} />
      )}
      <StatementSheet statement={statement} />
      {mayWrite && (
        <div className={styles.forms}>
          <section className="sheet stack" aria-labelledby="remit">
            <h2 id="remit">Sent on to the cause</h2>
            <RemittanceForm currency={meter.currency} mostMinor={statement.toRemitMinor} />
          </section>
          <section className="sheet stack" aria-labelledby="gift">
            <h2 id="gift">A gift of money</h2>
            <GiftForm currency={meter.currency} />
          </section>
        </div>
      )}
      <JournalTable journal={journal} currency={meter.currency} mayWrite={mayWrite} />
    </div>
  )
}
