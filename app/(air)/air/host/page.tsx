import type { Metadata } from 'next'
import Link from 'next/link'
import { api, serverNow } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { isDistance } from './distance'
import { HostScreen } from './host-screen'

export const metadata: Metadata = { title: 'Host' }

const ROLES = ['maker', 'host'] as const

/** The host's screen, read from across the room. For the staff: it shows how to say names. */
export default async function HostPage({ searchParams }: { searchParams: Promise<{ distance?: string }> }) {
  const { distance } = await searchParams
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
  return <HostScreen initial={host} serverNow={await serverNow()} distance={isDistance(distance) ? distance : 'room'} />
}
