import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { ACCOUNT_WORDS, accountNamed, kindNamed, ledgerOf, passes } from '#money/books/ledger.rules'
import { StaffOnly } from '../../_refused/staff-only'
import { JournalTable } from './journal-table'
import { LedgerFilter } from './ledger-filter'
import { LedgerTable } from './ledger-table'

export const metadata: Metadata = { title: 'Journal' }

const ROLES = ['maker', 'treasurer'] as const

type Asked = { searchParams: Promise<{ account?: string | string[]; kind?: string | string[]; lot?: string | string[] }> }

/** Every entry, or one account with its running balance; those of one lot or of one kind, if asked. */
export default async function JournalPage({ searchParams }: Asked) {
  const asked = await searchParams
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const books = await caller.books.all()
  if (!books) notFound()
  const account = accountNamed(String(asked.account ?? ''))
  const lots = [...new Set(books.journal.flatMap(({ lot }) => lot ?? []))].sort((a, b) => a - b)
  const filter = { lot: lots.find((one) => String(one) === asked.lot) ?? null, kind: kindNamed(String(asked.kind ?? '')) }
  const { currency } = books.statement
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Journal</h1>
        <span className="row">
          {account && <a href={`/bench/money/ledger/${account}.csv`}>This account (CSV)</a>}
          <a href="/bench/money/journal.json">Whole journal (JSON)</a>
          <a href="/schemas/journal-1.json">Its format</a>
        </span>
      </div>
      {books.journal.length > 0 && <LedgerFilter account={account ?? ''} kind={filter.kind ?? ''} lot={filter.lot} lots={lots} />}
      {books.journal.length === 0 ? (
        <EmptyState title="Nothing has been entered yet.">
          <p>The first entry is made when a hammer falls, or when money comes in.</p>
        </EmptyState>
      ) : account ? (
        <LedgerTable lines={ledgerOf(books.journal, account, filter)} currency={currency} name={ACCOUNT_WORDS[account]} />
      ) : (
        <JournalTable journal={books.journal.filter((entry) => passes(entry, filter))} currency={currency} mayWrite={books.mayWrite} />
      )}
    </div>
  )
}
