'use client'

import type { AirFrames } from '../../../server/air/air.contract'
import { type AirView, viewAt } from '../../../server/air/host.rules'
import type { LotsFrame } from '../../../server/bidding/bidding.contract'
import type { Instant } from '../../../server/kernel/instant'
import type { Meter } from '../../../server/money/books.contract'
import type { Programme } from '../../../server/programme/programme.contract'
import { useLive, useLiveness } from '../../_trpc/use-live'
import { useHouseNow } from '../../_ui/use-house-now'

export interface OnAir {
  now: Instant
  view: AirView
  programme: Programme
  meter: Meter
  /** Milliseconds since anything was heard; null before the first. */
  silentFor: number | null
  connected: boolean
}

/** What is on air at this second, kept fresh by the live topics and the house's clock. */
export function useAir(initial: AirFrames, serverNow: Instant): OnAir {
  const programme = useLive<Programme>('programme', initial.programme)
  const { lots } = useLive<LotsFrame>('lots', initial.lots)
  const meter = useLive<Meter>('meter', initial.meter)
  const { offset, heardAt, connected } = useLiveness()
  const now = useHouseNow(serverNow, null, offset)
  return {
    now,
    view: viewAt(programme.items, lots, now),
    programme,
    meter,
    silentFor: heardAt > 0 ? Math.max(0, performance.now() - heardAt) : null,
    connected,
  }
}
