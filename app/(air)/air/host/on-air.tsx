import Link from 'next/link'
import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'

type Host = NonNullable<Awaited<ReturnType<Awaited<ReturnType<typeof api>>['air']['host']>>>

const ROLES = ['maker', 'host'] as const

/** What is on air, for the staff who may see it; others are told whose page it is, and before a campaign what to do. */
export async function OnAir({ show }: { show(host: Host): ReactNode }) {
  const caller = await api()
  const { person, atWorkIn } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  if (atWorkIn !== null)
    return (
      <div className="air-ground stack">
        <h1>You are at work in {atWorkIn}</h1>
        <p>
          That campaign is over, and nothing of it is on air. <Link href="/bench/campaign">Go back to the present campaign</Link>
        </p>
      </div>
    )
  const host = await caller.air.host()
  if (host) return show(host)
  return (
    <div className="air-ground stack">
      <h1>Nothing is on air</h1>
      <p>
        There is no campaign yet. <Link href="/bench/campaign">Set up the campaign</Link>
      </p>
    </div>
  )
}
