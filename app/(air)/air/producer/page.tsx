import type { Metadata } from 'next'
import Link from 'next/link'
import { api, serverNow } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { HostScreen } from '../host/host-screen'
import { DaySheet } from './day-sheet'

export const metadata: Metadata = { title: 'Producer' }

const ROLES = ['maker', 'host'] as const

/** Everything, small, beside the host's page: what the host sees, what can be done, and the whole day under it. */
export default async function ProducerPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const host = await caller.air.host()
  if (!host) {
    return (
      <div className="air-ground stack">
        <h1>Nothing is on air</h1>
        <p>
          There is no campaign yet. <Link href="/bench/campaign">Set up the campaign</Link>
        </p>
      </div>
    )
  }
  const now = await serverNow()
  return (
    <>
      <HostScreen initial={host} serverNow={now} distance="near" />
      <DaySheet initial={host} serverNow={now} />
    </>
  )
}
