import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '../../../_trpc/server'
import { EmptyState } from '../../../_ui/empty-state'
import { LiveMeter } from '../../../_ui/live-meter'
import { SoldTable } from './sold-table'
import { StatementSheet } from './statement-sheet'
import { WaitingList } from './waiting-list'

export const metadata: Metadata = { title: 'Money' }

/** The treasurer's page: one true figure, what waits, the lots behind it, the statement. */
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
  const { meter, statement } = books
  return (
    <div className="page stack wide">
      <h1>Money</h1>
      <LiveMeter initial={meter} />
      <WaitingList books={books} />
      <section id="sold">
        {statement.lots.length === 0 ? (
          <EmptyState title="No hammer has fallen yet.">
            <p>Each sold lot stands here with its reference and what is still to pay.</p>
          </EmptyState>
        ) : (
          <SoldTable lots={statement.lots} currency={meter.currency} />
        )}
      </section>
      <StatementSheet statement={statement} />
    </div>
  )
}
