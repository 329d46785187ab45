'use client'

import { useEffect, useRef } from 'react'

/** Not every browser says that the line is back, above all to a page that was opened without one. */
const RETRY_EVERY = 5_000

/**
 * Sends what waits on this device one by one, in its order: at once, when the line is back and every five seconds. In one tab alone,
 * and never the same twice at a time. `one` answers whether the next may follow; what has been refused waits for whoever wrote it.
 */
export function useSendWhenReached<Waiting extends { refused: unknown }>(
  name: string,
  waiting: readonly Waiting[],
  one: (waiting: Waiting) => Promise<boolean>,
): void {
  const latest = useRef({ waiting, one })
  latest.current = { waiting, one }
  const busy = useRef(false)
  const many = waiting.filter(({ refused }) => refused === null).length
  useEffect(() => {
    if (many === 0) return
    const sendAll = async () => {
      if (busy.current) return
      busy.current = true
      try {
        for (const each of latest.current.waiting) if (each.refused === null && !(await latest.current.one(each))) break
      } finally {
        busy.current = false
      }
    }
    const alone = () => (navigator.locks ? navigator.locks.request(`tagstrip.${name}`, sendAll) : sendAll())
    void alone()
    window.addEventListener('online', alone)
    const timer = setInterval(alone, RETRY_EVERY)
    return () => {
      window.removeEventListener('online', alone)
      clearInterval(timer)
    }
  }, [many, name])
}
