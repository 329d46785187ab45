import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { TermsForm } from './terms-form'

export const metadata: Metadata = { title: 'How buyers pay' }

export default async function PaymentTermsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'treasurer' && person?.role !== 'maker') return <StaffOnly roles={['treasurer', 'maker']} person={person} />
  const terms = await caller.invoices.terms()
  return (
    <div className="page narrow stack">
      <h1>How buyers pay</h1>
      <p className="quiet">
        What every invoice says, and what happens when one is not paid. The words under “How to pay” and “Cancelling” are the campaign’s
        own.
      </p>
      <TermsForm terms={terms} currency={campaign?.currency ?? null} />
    </div>
  )
}
