import { useEffect, useRef, useState } from 'react'
import { refusedBy } from '#app/_trpc/use-command.ts'

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
  const [trouble, setTrouble] = useState('')
  const work = useRef<Pending | null>(null)
  useEffect(() => {
    if (left === null) return
    const timer = setTimeout(() => {
      if (left > 1) setLeft(left - 1)
      else {
        setLeft(null)
        work.current?.run().catch((failed: unknown) => setTrouble(refusedBy(failed).words))
      }
    }, 1000)
    return () => clearTimeout(timer)
  }, [left])
  return {
    left,
    words: work.current?.words ?? '',
    /** Why the last could not be done, once it was tried. */
    trouble,
    setTrouble,
    begin: (pending: Pending) => {
      setTrouble('')
      work.current = pending
      setLeft(GRACE)
    },
    undo: () => setLeft(null),
  }
}

export type Grace = ReturnType<typeof useGrace>
