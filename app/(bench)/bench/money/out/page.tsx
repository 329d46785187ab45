import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { showMoney } from '#kernel/money'
import { StaffOnly } from '../../_refused/staff-only'
import { CostForm } from './cost-form'
import { CostTable } from './cost-table'
import { FeeForm } from './fee-form'
import { PostageTable } from './postage-table'
import { RemittanceForm } from './remittance-form'

export const metadata: Metadata = { title: 'Money that went out' }

const ROLES = ['maker', 'treasurer'] as const

/** Costs, fees, and what was sent on. What goes back to a payer is given back where it stands without a home. */
export default async function MoneyOutPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const [books, postage] = await Promise.all([caller.books.all(), caller.sending.postages()])
  if (!books) notFound()
  const { statement, costs, mayWrite } = books
  const { currency, toRemitMinor } = statement
  return (
    <div className="page stack wide">
      <h1>Money that went out</h1>
      {toRemitMinor < 0 && (
        <Notice tone="bad" title={`The cause has ${showMoney(-toRemitMinor, currency)} too much`}>
          <p>More was passed on than has come in for it. Take it off the next payment, or the cause pays it back.</p>
        </Notice>
      )}
      {costs.length === 0 ? (
        <EmptyState title="Nothing has been spent yet.">
          <p>The target counts before costs. What the batch cost still belongs in the books.</p>
        </EmptyState>
      ) : (
        <CostTable costs={costs} currency={currency} />
      )}
      {postage && postage.parcels.length > 0 && <PostageTable postage={postage} />}
      {mayWrite && (
        <div className="forms">
          <section className="sheet stack" aria-labelledby="remit">
            <h2 id="remit">Passed on to the cause</h2>
            <RemittanceForm currency={currency} mostMinor={toRemitMinor} />
          </section>
          <section className="sheet stack" aria-labelledby="cost">
            <h2 id="cost">A cost</h2>
            <CostForm books={books} />
          </section>
          <section className="sheet stack" aria-labelledby="fee">
            <h2 id="fee">A fee</h2>
            <FeeForm books={books} />
          </section>
        </div>
      )}
    </div>
  )
}
