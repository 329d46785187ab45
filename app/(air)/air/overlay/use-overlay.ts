'use client'

import { useCallback, useEffect, useState } from 'react'
import type { OverlayFrames, OverlayState } from '#air/screens/overlay.contract'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import type { LotFrame, LotsFrame } from '#sale/bidding/bidding.contract'
import { type OnAir, useAir } from '../use-air'

/** A beat comes every five seconds; beyond this the picture says how old it is, and names nobody. */
const OLD_AFTER_MS = 10_000
const ASK_AGAIN_MS = 15_000

export type Opened =
  | { state: 'asking' | 'dark' }
  /** It never was open: whoever sets it up is told. */
  | { state: 'shut' }
  | { state: 'open'; frames: OverlayFrames | null; key: string }

/** What stands behind the # of the address; null before the browser has told. */
function useFragment(): string | null {
  const [fragment, setFragment] = useState<string | null>(null)
  useEffect(() => {
    const read = () => setFragment(decodeURIComponent(location.hash.slice(1)))
    read()
    addEventListener('hashchange', read)
    return () => removeEventListener('hashchange', read)
  }, [])
  return fragment
}

/** Opens an overlay with the key in its address, and darkens it as soon as the key is another. */
export function useOpened(): Opened {
  const key = useFragment()
  const [opened, setOpened] = useState<Opened>({ state: 'asking' })
  const { keyMadeAt } = useLive<Pick<OverlayState, 'keyMadeAt'> & { seq?: number }>('overlay', { keyMadeAt: null })
  const ask = useCallback(async () => {
    if (key === null) return
    try {
      const answer = await api.air.overlay.mutate({ key })
      setOpened((was) =>
        answer.isOpen
          ? { state: 'open', frames: answer.frames, key }
          : { state: was.state === 'open' || was.state === 'dark' ? 'dark' : 'shut' },
      )
    } catch {
      // Not reached is not refused: the picture keeps what it shows, and says how old that is.
    }
  }, [key])
  // biome-ignore lint/correctness/useExhaustiveDependencies: a key made at another time is asked about at once
  useEffect(() => {
    void ask()
    const timer = setInterval(ask, ASK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [ask, keyMadeAt])
  return opened
}

export interface OverlayAir extends OnAir {
  frames: OverlayFrames
  lots: readonly LotFrame[]
  state: OverlayState
  overlayKey: string
  /** Nothing was heard for so long that what stands here may not be true any more. */
  isOld: boolean
}

/** What is on air at this second, for all pieces of a page alike. */
export function useOverlayAir(frames: OverlayFrames, overlayKey: string): OverlayAir {
  const air = useAir(frames, frames.lots.serverNow)
  const { lots } = useLive<LotsFrame>('lots', frames.lots)
  const state = useLive<OverlayState>('overlay', frames.state)
  return { ...air, frames, lots, state, overlayKey, isOld: air.silentFor !== null && air.silentFor > OLD_AFTER_MS }
}
