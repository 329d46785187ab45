import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '../_refused/staff-only'
import { HouseDesk } from './house-desk'

export const metadata: Metadata = { title: 'How is the house?' }

/** What the house is watched by, for its maker: the worst first, with what to do. */
export default async function HousePage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  return (
    <div className="page stack">
      <h1>How is the house?</h1>
      <HouseDesk found={await caller.vitals.read()} zone={campaign?.zone ?? 'utc'} />
    </div>
  )
}
