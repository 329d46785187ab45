'use client'

import { useCallback, useEffect, useState } from 'react'

/**
 * The tag that the person read on the machine, kept for this browser tab: asked once for each machine
 * taken up, and sent with every command so that a reading cannot land on another unit's page.
 */
export function useInHand(tag: string): { seen: string | null; take(seen: string): void; putDown(): void } {
  const [seen, setSeen] = useState<string | null>(null)
  const place = `in-hand:${tag}`
  useEffect(() => setSeen(sessionStorage.getItem(place)), [place])
  const take = useCallback(
    (typed: string) => {
      sessionStorage.setItem(place, typed)
      setSeen(typed)
    },
    [place],
  )
  const putDown = useCallback(() => {
    sessionStorage.removeItem(place)
    setSeen(null)
  }, [place])
  return { seen, take, putDown }
}
