import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { RehearsalDesk } from './rehearsal-desk'

export const metadata: Metadata = { title: 'Rehearsal' }

const ROLES = ['maker', 'host'] as const

/** In the house: starts a rehearsal of the day. In the rehearsal: makes things go wrong. */
export default async function RehearsalPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const view = await caller.rehearsal.view()
  return (
    <div className="page stack">
      <Crumbs trail={[{ href: '/bench/programme', label: 'The day' }]} />
      <h1>Rehearsal</h1>
      <RehearsalDesk found={view} />
    </div>
  )
}
