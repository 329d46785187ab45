import type { Metadata } from 'next'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { CatchForm } from './catch-form'
import { CatchTable } from './catch-table'

export const metadata: Metadata = { title: 'What each check catches' }

export default async function CatchesPage({ params }: { params: Promise<{ id: string }> }) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { id } = await params
  const table = await caller.faults.catches({ designId: decodeURIComponent(id) }).catch(orNotFound)
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: `${table.design.name} ${table.design.revision}`, href: `/bench/designs/${id}` }]} />
      <h1>What each check catches</h1>
      <p>
        The catch of a check is the chance that it fails if a given block is the faulty one. The usual is 90 % for its own blocks and, with
        power on, for those that feed them; 50 % for fitted loads of a current, a ripple or a rail. Closed faults adjust it automatically; a
        figure you set here is kept.
      </p>
      {person.role === 'maker' && <CatchForm table={table} />}
      <CatchTable table={table} />
    </div>
  )
}
