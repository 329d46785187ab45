import type { Metadata } from 'next'
import Link from 'next/link'
import { api, publicUrl } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { OverlayDesk } from './overlay-desk'

export const metadata: Metadata = { title: 'Overlays', robots: { index: false }, referrer: 'no-referrer' }

const ROLES = ['maker', 'host'] as const

/** All overlays as the picture has them now, each with its address. For whoever sets up the video mixer. */
export default async function OverlaysPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const desk = await caller.air.overlays()
  if (!desk.frames) {
    return (
      <div className="air-ground stack">
        <h1>Overlays</h1>
        <p>
          There is no campaign yet. <Link href="/bench/campaign">Set up the campaign</Link>
        </p>
      </div>
    )
  }
  return <OverlayDesk desk={desk} frames={desk.frames} publicUrl={publicUrl()} />
}
