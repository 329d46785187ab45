'use client'

import { useEffect, useState } from 'react'
import type { Instant } from '#kernel/instant'
import { untilNextSecond } from './countdown.rules'

/** Where time runs fast, a page is drawn this often at most. */
const SOONEST_MS = 100

/** A rehearsal's pages run as fast as its clock and say so here; everywhere else it is one. */
const pace = (): number => (globalThis as { tagstripPace?: number }).tagstripPace ?? 1

/**
 * The house's clock, ticking at each full second before `until`. The first value is `serverNow` on
 * the server and in the browser alike. `offset` (server less browser, ms) comes from the live
 * stream; without it the age of the page is taken for nothing, which errs by its way over the net.
 */
export function useHouseNow(serverNow: Instant, until: Instant | null, offset?: number): Instant {
  const [now, setNow] = useState(serverNow)
  const [guess, setGuess] = useState<number | null>(null)
  useEffect(() => setGuess(serverNow - Date.now()), [serverNow])
  const shift = offset ?? guess
  useEffect(() => {
    if (shift === null) return
    let timer: ReturnType<typeof setTimeout>
    const tick = () => {
      const house = Date.now() + shift
      setNow(house)
      const wait = untilNextSecond((until ?? 0) - house)
      timer = setTimeout(tick, pace() === 1 ? wait : Math.max(SOONEST_MS, wait / pace()))
    }
    tick()
    return () => clearTimeout(timer)
  }, [shift, until])
  return now
}
