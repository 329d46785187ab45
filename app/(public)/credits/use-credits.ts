'use client'

import { useEffect, useState } from 'react'
import { useLive } from '#app/_trpc/use-live.ts'
import type { CreditMarks, Watched } from '#gifts/credits/credits.contract'

/** So many open pages are not to ask in one moment; names vanish at once all the same. */
const SPREAD_MS = 3000

/**
 * The credits of a page, followed while it is open. When somebody withdraws a consent, the names go from the screen with
 * the next frame, and those who are left come back a moment later.
 */
export function useCredits<Credits extends { live: Watched }>(initial: Credits, ask: () => Promise<Credits | null>): Credits | null {
  const [credits, setCredits] = useState(initial)
  const { marks } = useLive<Partial<CreditMarks>>('credits', {})
  const mark = marks?.[credits.live.key]
  const isOld = mark !== undefined && mark !== credits.live.mark
  // biome-ignore lint/correctness/useExhaustiveDependencies: a mark that differs is the reason to ask again
  useEffect(() => {
    if (!isOld) return
    const timer = setTimeout(() => {
      // Not reached: nobody is named until it is known who agrees.
      ask().then(
        (found) => found && setCredits(found),
        () => {},
      )
    }, Math.random() * SPREAD_MS)
    return () => clearTimeout(timer)
  }, [isOld, mark])
  return isOld ? null : credits
}
