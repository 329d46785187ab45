import type { Metadata } from 'next'
import Link from 'next/link'
import { api, serverNow } from '#app/_trpc/server.ts'
import { isDistance } from './distance'
import { HostScreen } from './host-screen'

export const metadata: Metadata = { title: 'Host' }

/** The host's screen, read from across the room. For the staff: it shows how to say names. */
export default async function HostPage({ searchParams }: { searchParams: Promise<{ distance?: string }> }) {
  const { distance } = await searchParams
  const host = await (await api()).air.host()
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
