import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '../../_refused/staff-only'
import { ByBatch, spentOn } from './by-batch'
import { ByHour } from './by-hour'
import { ByMachine } from './by-machine'

export const metadata: Metadata = { title: 'Where the money came from' }

const ROLES = ['maker', 'treasurer'] as const

/** Three tables whose bars are the picture: nothing is drawn that is not written beside it. */
export default async function PicturesPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const found = await caller.pictures.sources()
  if (!found) notFound()
  if (found.machines.length === 0 && spentOn(found) === 0) {
    return (
      <div className="page stack">
        <h1>Where the money came from</h1>
        <EmptyState title="Nothing has come in yet.">
          <p>The first hammer or the first gift draws the first bar.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <h1>Where the money came from</h1>
      <ByMachine {...found} />
      <ByHour {...found} />
      <ByBatch {...found} />
    </div>
  )
}
