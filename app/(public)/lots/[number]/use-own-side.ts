'use client'

import { useCallback, useEffect, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import { isSidePast, type KnownSide, learnSide, sideBeside } from './own-side.rules'

/**
 * The reader's own side of a lot: what came with the page, asked anew when the live frame may have made it untrue, when the page
 * comes back to sight, and whenever `ask` is called. Null for who is not signed in, or is no longer.
 */
export function useOwnSide(frame: LotFrame, given: MySide | null, asOf: LotFrame): { side: MySide | null; ask: () => void } {
  const [known, setKnown] = useState<KnownSide | null>(() => given && learnSide(null, given, asOf))
  const latest = useRef(frame)
  latest.current = frame
  // An answer that was overtaken by a later one says nothing any more.
  const asked = useRef(0)
  const heard = useRef(0)
  const ask = useCallback(() => {
    asked.current += 1
    const turn = asked.current
    const seen = latest.current
    const hear = (change: (before: KnownSide | null) => KnownSide | null) => {
      if (turn < heard.current) return
      heard.current = turn
      setKnown(change)
    }
    api.bidding.mySide.query({ lot: seen.number }).then(
      (side) => hear((before) => learnSide(before, side, seen)),
      // Whoever was signed out has no side here; a house that was not reached is asked again with the next frame.
      (reason) => refusedBy(reason).code === 'not-signed-in' && hear(() => null),
    )
  }, [])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the page that brings another side brings its frame with it
  useEffect(() => {
    asked.current += 1
    heard.current = asked.current
    setKnown((before) => given && learnSide(before, given, asOf))
  }, [given])
  const isPast = known !== null && isSidePast(known, frame)
  // biome-ignore lint/correctness/useExhaustiveDependencies: what could not be asked is asked again with the next entry
  useEffect(() => {
    if (isPast && document.visibilityState === 'visible') ask()
  }, [isPast, frame.ledgerSize, ask])
  const isKnown = known !== null
  useEffect(() => {
    if (!isKnown) return
    const look = () => {
      if (document.visibilityState === 'visible') ask()
    }
    document.addEventListener('visibilitychange', look)
    return () => document.removeEventListener('visibilitychange', look)
  }, [isKnown, ask])
  return { side: known && sideBeside(known, frame), ask }
}
