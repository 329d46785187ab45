import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { DocumentTable } from '#app/_ui/document-table.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { MyIssueForm } from './my-issue-form'

export const metadata: Metadata = { title: 'Your invoices' }

/** A buyer's own documents, and one invoice over all that they won if they like. */
export default async function MyInvoicesPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/me/invoices')
  if (!campaign) redirect('/')
  const { documents, waiting, currency } = await caller.documents.mine()
  return (
    <div className="page narrow stack">
      <Crumbs trail={[{ href: '/me', label: 'My bids' }]} />
      <h1>Your invoices</h1>
      {documents.length === 0 && !waiting && (
        <EmptyState title="Nothing to invoice.">When you win a lot, its invoice is issued here.</EmptyState>
      )}
      {waiting && (
        <section className="sheet act stack" aria-labelledby="issue">
          <h2 id="issue">{waiting.lots.length === 1 ? 'Have your invoice issued' : 'One invoice for everything you won'}</h2>
          <p className="small">
            An invoice never changes once it is out. If a price or the postage changes later, a credit note or a corrected invoice follows.
            You need not ask: it is issued at the latest once you have paid and said where to send the lot.
          </p>
          <MyIssueForm waiting={waiting} currency={currency} />
        </section>
      )}
      {documents.length > 0 && <DocumentTable documents={documents} currency={currency} />}
    </div>
  )
}
