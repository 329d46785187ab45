import { useEffect, useRef, useState } from 'react'

/** Seconds in which a change can still be taken back: what was announced cannot move earlier afterwards. */
const GRACE = 8

export interface Pending {
  /** What is about to be done. */
  words: string
  run(): Promise<unknown>
}

/** Counts down before something is done that cannot be undone afterwards. */
export function useGrace() {
  const [left, setLeft] = useState<number | null>(null)
  const work = useRef<Pending | null>(null)
  useEffect(() => {
    if (left === null) return
    const timer = setTimeout(() => {
      if (left > 1) setLeft(left - 1)
      else {
        setLeft(null)
        void work.current?.run()
      }
    }, 1000)
    return () => clearTimeout(timer)
  }, [left])
  return {
    left,
    words: work.current?.words ?? '',
    begin: (pending: Pending) => {
      work.current = pending
      setLeft(GRACE)
    },
    undo: () => setLeft(null),
  }
}
