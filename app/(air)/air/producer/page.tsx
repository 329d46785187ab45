import type { Metadata } from 'next'
import { serverNow } from '#app/_trpc/server.ts'
import { HostScreen } from '../host/host-screen'
import { OnAir } from '../host/on-air'
import { DaySheet } from './day-sheet'

export const metadata: Metadata = { title: 'Producer' }

/** Everything, small, beside the host's page: what the host sees, what can be done, and the whole day under it. */
export default async function ProducerPage() {
  const now = await serverNow()
  return (
    <OnAir
      show={(host) => (
        <>
          <HostScreen initial={host} serverNow={now} distance="near" />
          <DaySheet initial={host} serverNow={now} />
        </>
      )}
    />
  )
}
