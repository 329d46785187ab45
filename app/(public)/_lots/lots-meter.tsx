'use client'

import { useLive } from '#app/_trpc/use-live.ts'
import { Meter } from '#app/_ui/meter.tsx'
import type { Meter as MeterFrame } from '#money/proceeds/proceeds.contract'

/** What was raised, as it stands now. */
export function LotsMeter({ initial }: { initial: MeterFrame }) {
  const { currency, remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor } = useLive<MeterFrame>('meter', initial)
  return <Meter {...{ currency, remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor }} label="Raised for the cause" />
}
