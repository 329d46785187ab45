import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '../../_refused/staff-only'
import { JournalTable } from './journal-table'

export const metadata: Metadata = { title: 'Journal' }

const ROLES = ['maker', 'treasurer'] as const

export default async function JournalPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const books = await caller.books.all()
  if (!books) notFound()
  return (
    <div className="page stack wide">
      <h1>Journal</h1>
      {books.journal.length === 0 ? (
        <EmptyState title="Nothing has been entered yet.">
          <p>The first entry is made when a hammer falls, or when money comes in.</p>
        </EmptyState>
      ) : (
        <JournalTable journal={books.journal} currency={books.statement.currency} mayWrite={books.mayWrite} />
      )}
    </div>
  )
}
