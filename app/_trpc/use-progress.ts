'use client'

import { useCallback, useEffect, useState } from 'react'

const LOOK_EVERY_MS = 400

/**
 * Long work as a page follows it: what came with the page, asked for again several times a second while it runs. The
 * page is rendered anew after every change; what it brings then is the newest. A look that fails leaves what is seen.
 */
export function useProgress<View>(
  given: View,
  ask: () => Promise<NoInfer<View> | null>,
  isRunning: (seen: NoInfer<View>) => boolean,
  everyMs = LOOK_EVERY_MS,
) {
  const [seen, setSeen] = useState(given)
  useEffect(() => setSeen(given), [given])
  const runs = isRunning(seen)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the question is the same at every rendering
  const look = useCallback(async () => {
    const newest = await ask().catch(() => null)
    if (newest) setSeen(newest)
  }, [])
  useEffect(() => {
    if (!runs) return
    const timer = setInterval(() => void look(), everyMs)
    return () => clearInterval(timer)
  }, [runs, look, everyMs])
  return { seen, isRunning: runs, look: () => void look() }
}
