import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { JournalTable } from './journal-table'

export const metadata: Metadata = { title: 'Journal' }

export default async function JournalPage() {
  const books = await (await api()).books.all()
  if (!books) notFound()
  return (
    <div className="page stack wide">
      <h1>Journal</h1>
      {books.journal.length === 0 ? (
        <EmptyState title="Nothing has been written yet.">
          <p>The first entry is made when a hammer falls, or when money comes in.</p>
        </EmptyState>
      ) : (
        <JournalTable journal={books.journal} currency={books.statement.currency} mayWrite={books.mayWrite} />
      )}
    </div>
  )
}
