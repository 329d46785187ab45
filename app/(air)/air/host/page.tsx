import type { Metadata } from 'next'
import { serverNow } from '#app/_trpc/server.ts'
import { isDistance } from './distance'
import { HostScreen } from './host-screen'
import { OnAir } from './on-air'

export const metadata: Metadata = { title: 'Host' }

/** The host's screen, read from across the room. For the staff: it shows how to say names. */
export default async function HostPage({ searchParams }: { searchParams: Promise<{ distance?: string }> }) {
  const { distance } = await searchParams
  const now = await serverNow()
  return <OnAir show={(host) => <HostScreen initial={host} serverNow={now} distance={isDistance(distance) ? distance : 'room'} />} />
}
