import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { CHANGE_KINDS, type ChangeKind } from '#people/changes/changes.contract'
import { StaffOnly } from '../_refused/staff-only'
import { ChangesTable } from './changes-table'
import { Choice } from './choice'
import { recordAddress } from './record-address.rules'

export const metadata: Metadata = { title: 'What was changed' }

const ROLES = ['maker', 'treasurer'] as const

interface Asked {
  kind?: string | string[]
  by?: string | string[]
  below?: string | string[]
}

export default async function RecordPage({ searchParams }: { searchParams: Promise<Asked> }) {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const choice = choiceOf(await searchParams)
  const { entries, count, next, people } = await caller.changes.list(choice)
  const { kind, by, below } = choice
  const isChosen = kind !== null || by !== null
  return (
    <div className="page stack wide">
      <h1>What was changed</h1>
      <p className="quiet">
        Roles, ceilings, the account, terms, the campaign, postage and keys: who changed them, when, and what they were before. Nothing in
        this record is ever removed or corrected.
      </p>
      <Choice people={people} kind={kind} by={by} />
      {entries.length === 0 ? (
        <EmptyState title={isChosen ? 'Nothing of this kind has been changed.' : 'Nothing has been changed yet.'}>
          {isChosen ? <Link href="/bench/record">Show all changes</Link> : 'The first role you give will appear here.'}
        </EmptyState>
      ) : (
        <ChangesTable entries={entries} zone={campaign?.zone ?? 'utc'} caption={captionOf(count, below !== null)} />
      )}
      <div className="row">
        {below !== null && <Link href={recordAddress({ kind, by, below: null })}>Back to the newest</Link>}
        {next !== null && <Link href={recordAddress({ kind, by, below: next })}>Earlier changes</Link>}
        <a href="/bench/record/changes.csv">The whole record (CSV)</a>
      </div>
    </div>
  )
}

const captionOf = (count: number, isLater: boolean): string =>
  `${count === 1 ? 'One change' : `${count} changes`}, newest first${isLater ? '; these are earlier ones' : ''}`

const first = (value: string | string[] | undefined): string => (Array.isArray(value) ? value[0] : value) ?? ''

/** What an address asks for; whatever it cannot mean asks for all. */
function choiceOf({ kind, by, below }: Asked): { kind: ChangeKind | null; by: string | null; below: number | null } {
  const from = Number(first(below))
  return {
    kind: CHANGE_KINDS.find((one) => one === first(kind)) ?? null,
    by: first(by).slice(0, 80) || null,
    below: Number.isSafeInteger(from) && from > 0 ? from : null,
  }
}
