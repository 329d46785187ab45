import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { DocumentTable } from '#app/_ui/document-table.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { showMoney } from '#kernel/money'
import { showNumber } from '#money/documents/document-words.rules'
import { MakeOutForm, PayInvoiceForm, StaffIssueForm } from './invoice-forms'

export const metadata: Metadata = { title: 'Invoices' }

/** Every document by its number, what waits for one, and what is paid together. */
export default async function InvoicesPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'treasurer' && person?.role !== 'maker') return <StaffOnly roles={['treasurer', 'maker']} person={person} />
  if (!campaign) return <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>} />
  const { documents, waiting, together, invoicedMinor, currency, mayWrite } = await caller.documents.desk()
  const whole = documents.filter(({ kind }) => kind !== 'credit note')
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>Invoices</h1>
        <Link prefetch={false} href="/bench/money/terms">
          How buyers pay, and tax
        </Link>
      </div>
      <p className="quiet">
        Numbered without gaps and never changed: what changes is another document. Each is kept as the very sheet that was issued. An
        invoice is issued when its buyer or one of you says to whom it is made out, and at the latest when a lot is paid and its address is
        known.
      </p>
      {documents.length === 0 ? (
        <EmptyState title="Nothing was invoiced yet." />
      ) : (
        <>
          <p className="sheet">
            Invoiced, less what was credited: <b>{showMoney(invoicedMinor, currency)}</b>
          </p>
          <DocumentTable documents={documents} currency={currency} isForBooks />
        </>
      )}
      {together.length > 0 && (
        <section className="stack" aria-labelledby="together">
          <h2 id="together">Paid together</h2>
          {together.map(({ number, reference, lots, owedMinor }) => (
            <div key={number} className="sheet stack close">
              <p>
                <b>{showMoney(owedMinor, currency)}</b> to pay for invoice No. {showNumber(number)}, lots {lots.join(', ')}, under{' '}
                <span className="code several">{reference}</span>
              </p>
              {mayWrite && <PayInvoiceForm number={number} currency={currency} owedMinor={owedMinor} reference={reference} />}
            </div>
          ))}
        </section>
      )}
      {waiting.length > 0 && (
        <section className="stack" aria-labelledby="waiting">
          <h2 id="waiting">Sold and not invoiced</h2>
          {waiting.map((one) => (
            <details key={one.personId} className="sheet">
              <summary>
                {one.buyer}: {one.lots.length === 1 ? `lot ${one.lots[0]?.lot}` : `lots ${one.lots.map(({ lot }) => lot).join(', ')}`},{' '}
                {showMoney(
                  one.lots.reduce((sum, { priceMinor, postageMinor }) => sum + priceMinor + postageMinor, 0),
                  currency,
                )}
              </summary>
              <StaffIssueForm waiting={one} currency={currency} />
            </details>
          ))}
        </section>
      )}
      {whole.length > 0 && (
        <section className="stack" aria-labelledby="anew">
          <h2 id="anew">Made out to somebody else</h2>
          <details className="sheet">
            <summary>A name or an address on an invoice was wrong: issue a corrected one</summary>
            <MakeOutForm numbers={whole.map(({ number, buyer }) => ({ number, buyer }))} />
          </details>
        </section>
      )}
    </div>
  )
}
