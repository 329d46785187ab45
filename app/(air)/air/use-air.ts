'use client'

import type { AirFrames } from '#air/screens/air.contract'
import { type AirView, viewAt } from '#air/screens/host.rules'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import type { Instant } from '#kernel/instant'
import type { Meter } from '#money/proceeds/proceeds.contract'
import type { LotsFrame } from '#sale/bidding/bidding.contract'
import type { Programme } from '#sale/programme/programme.contract'

export interface OnAir {
  now: Instant
  view: AirView
  programme: Programme
  lots: readonly LotsFrame['lots'][number][]
  meter: Meter
  /** Milliseconds since anything was heard; null before the first. */
  silentFor: number | null
  connected: boolean
  /** What keeps the house from taking anything, in its words. */
  trouble: string | null
}

/** What is on air at this second, kept fresh by the live topics and the house's clock. */
export function useAir(initial: AirFrames, serverNow: Instant): OnAir {
  const programme = useLive<Programme>('programme', initial.programme)
  const { lots } = useLive<LotsFrame>('lots', initial.lots)
  const meter = useLive<Meter>('meter', initial.meter)
  const { offset, heardAt, connected, trouble } = useLiveness()
  const now = useHouseNow(serverNow, null, offset)
  return {
    now,
    view: viewAt(programme.items, lots, now),
    programme,
    lots,
    meter,
    silentFor: heardAt > 0 ? Math.max(0, performance.now() - heardAt) : null,
    connected,
    trouble,
  }
}
