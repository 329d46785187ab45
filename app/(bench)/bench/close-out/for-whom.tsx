import Link from 'next/link'
import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import type { Role } from '#kernel/role'
import { StaffOnly } from '../_refused/staff-only'

/** What is shown in the place of a page to a person whom it is not for, and before there is a campaign; null for the page itself. */
export async function insteadOf(title: string, roles: readonly Role[]): Promise<ReactNode | null> {
  const { person, campaign } = await (await api()).people.shell()
  if (!person || !roles.includes(person.role)) return <StaffOnly roles={roles} person={person} />
  if (campaign) return null
  return (
    <div className="page">
      <h1>{title}</h1>
      <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>} />
    </div>
  )
}
