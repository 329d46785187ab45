'use client'

import type { Meter as MeterFrame } from '../../../server/money/books.contract'
import { useLive } from '../../_trpc/use-live'
import { Meter } from '../../_ui/meter'

/** What was raised, as it stands now. */
export function LotsMeter({ initial }: { initial: MeterFrame }) {
  const { currency, remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor } = useLive<MeterFrame>('meter', initial)
  return <Meter {...{ currency, remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor }} label="Raised for the cause" />
}
