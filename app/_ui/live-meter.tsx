'use client'

import type { Currency } from '#kernel/money'
import { useLive } from '../_trpc/use-live'
import { Meter } from './meter'
import type { MeterAmounts } from './meter.rules'

export interface MeterFrame extends MeterAmounts {
  currency: Currency
}

/** The meter as it stands at this moment. */
export function LiveMeter({ initial, size }: { initial: MeterFrame; size?: 'page' | 'air' }) {
  const { currency, targetMinor, bidMinor, wonMinor, paidMinor, remittedMinor } = useLive<MeterFrame>('meter', initial)
  return <Meter {...{ currency, targetMinor, bidMinor, wonMinor, paidMinor, remittedMinor }} {...(size && { size })} />
}
