import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { RehearsalDesk } from './rehearsal-desk'

export const metadata: Metadata = { title: 'Rehearsal' }

/** In the house: starts a rehearsal of the day. In the rehearsal: makes things go wrong. */
export default async function RehearsalPage() {
  const view = await (await api()).rehearsal.view()
  return (
    <div className="page stack">
      <Crumbs trail={[{ href: '/bench/programme', label: 'The day' }]} />
      <h1>Rehearsal</h1>
      <RehearsalDesk found={view} />
    </div>
  )
}
