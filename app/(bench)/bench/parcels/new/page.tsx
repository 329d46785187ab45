import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { ParcelForm } from './parcel-form'

export const metadata: Metadata = { title: 'A parcel has come' }

export default async function NewParcelPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { donors, promises, parts, goals } = await caller.parcels.start()
  const known = {
    donors: donors.filter(({ isStandIn }) => !isStandIn).map(({ id, name, consents, consentAt }) => ({ id, name, consents, consentAt })),
    promises: promises.map(({ giftId, donorId, partId, what, quantity, promisedAt, waiting }) => ({
      giftId,
      donorId,
      partId,
      what,
      quantity,
      promisedAt,
      waiting,
    })),
    parts,
    goals,
  }
  return (
    <div className="page narrow">
      <ParcelForm known={known} zone={campaign?.zone ?? 'UTC'} />
    </div>
  )
}
