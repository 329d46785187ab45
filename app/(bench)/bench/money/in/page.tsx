import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '../../_refused/staff-only'
import { CameForm } from './came-form'
import { PromiseForm } from './promise-form'
import { PromiseList } from './promise-list'
import { UnplacedList } from './unplaced-list'

export const metadata: Metadata = { title: 'Money that came in' }

const ROLES = ['maker', 'treasurer'] as const

/** What came in and is no plain payment: money without a home, gifts, matched giving. */
export default async function MoneyInPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const books = await caller.books.all()
  if (!books) notFound()
  const { unplaced, promises, mayWrite, statement } = books
  const { currency } = statement
  return (
    <div className="page stack wide">
      <h1>Money that came in</h1>
      <section className="stack" aria-labelledby="unplaced">
        <h2 id="unplaced">Unallocated</h2>
        {unplaced.length === 0 ? (
          <EmptyState title="All the money is allocated.">
            <p>Overpayments, and money from unknown payers, are listed here until they are allocated, kept as a gift or refunded.</p>
          </EmptyState>
        ) : (
          <UnplacedList books={books} />
        )}
      </section>
      <section className="stack" aria-labelledby="matched">
        <h2 id="matched">Matched giving</h2>
        {promises.length === 0 ? (
          <EmptyState title="Nobody has promised to match what is raised.">
            <p>A promise counts towards the target together with the money that earns it, up to its cap.</p>
          </EmptyState>
        ) : (
          <PromiseList {...{ promises, currency, mayWrite }} />
        )}
      </section>
      {mayWrite && (
        <div className="forms">
          <section className="sheet stack" aria-labelledby="unknown">
            <h2 id="unknown">Money came from an unknown payer</h2>
            <CameForm as="unknown" currency={currency} />
          </section>
          <section className="sheet stack" aria-labelledby="gift">
            <h2 id="gift">A gift of money</h2>
            <CameForm as="gift" currency={currency} />
          </section>
          <section className="sheet stack" aria-labelledby="promise">
            <h2 id="promise">A promise to match</h2>
            <PromiseForm currency={currency} />
          </section>
        </div>
      )}
    </div>
  )
}
