import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { ParcelForm } from './parcel-form'

export const metadata: Metadata = { title: 'A parcel has come' }

export default async function NewParcelPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  return (
    <div className="page narrow">
      <ParcelForm known={await caller.parcels.start()} zone={campaign?.zone ?? 'UTC'} />
    </div>
  )
}
