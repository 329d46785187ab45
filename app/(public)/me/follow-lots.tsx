'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { useLive } from '#app/_trpc/use-live.ts'
import type { LotFrame, LotsFrame } from '#sale/bidding/bidding.contract'

/** Many bids may come within a breath; the page is asked for once. */
const GATHER_MS = 400

export type ShownLot = Pick<LotFrame, 'number' | 'state' | 'standingMinor' | 'closesAt'>

const NOTHING_YET: LotsFrame = { lots: [], serverNow: 0 }

/** Keeps a page about one's own lots true: when the house says of one of them what the page does not, the page is asked for again. */
export function FollowLots({ shown }: { shown: readonly ShownLot[] }) {
  const router = useRouter()
  const { lots } = useLive<LotsFrame>('lots', NOTHING_YET)
  const said = inOneLine(lots.filter(({ number }) => shown.some((lot) => lot.number === number)))
  const isOld = said !== '' && said !== inOneLine(shown)
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is said anew is a reason to ask anew
  useEffect(() => {
    if (!isOld) return
    const timer = setTimeout(() => router.refresh(), GATHER_MS)
    return () => clearTimeout(timer)
  }, [isOld, said, router])
  return null
}

const inOneLine = (lots: readonly ShownLot[]): string =>
  [...lots]
    .sort((a, b) => a.number - b.number)
    .map(({ number, state, standingMinor, closesAt }) => [number, state, standingMinor, closesAt].join(' '))
    .join('; ')
