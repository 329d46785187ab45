import { useEffect, useRef, useState } from 'react'
import { refusedBy } from '#app/_trpc/use-command.ts'

/** Seconds in which a change can still be taken back: what was announced cannot move earlier afterwards. */
const GRACE = 8
/** What was done at once can be undone for so many seconds: as long as it has cost the clocks no more than itself. */
const UNDO = 20

export interface Pending {
  /** What is about to be done. */
  words: string
  run(): Promise<unknown>
}

/** Counts down before something is done that cannot be undone afterwards, and after something was done that can. */
export function useGrace() {
  const [left, setLeft] = useState<number | null>(null)
  const [isDone, setDone] = useState(false)
  const [trouble, setTrouble] = useState('')
  const work = useRef<Pending | null>(null)
  const run = () => work.current?.run().catch((failed: unknown) => setTrouble(refusedBy(failed).words))
  // biome-ignore lint/correctness/useExhaustiveDependencies: the count alone says when the next second has passed
  useEffect(() => {
    if (left === null) return
    const timer = setTimeout(() => {
      if (left > 1) return setLeft(left - 1)
      setLeft(null)
      if (!isDone) void run()
    }, 1000)
    return () => clearTimeout(timer)
  }, [left])
  const count = (pending: Pending, seconds: number, isDoneAlready: boolean) => {
    setTrouble('')
    work.current = pending
    setDone(isDoneAlready)
    setLeft(seconds)
  }
  return {
    left,
    /** It is done already, and can still be undone. */
    isDone: left !== null && isDone,
    words: work.current?.words ?? '',
    /** Why the last could not be done, once it was tried. */
    trouble,
    setTrouble,
    begin: (pending: Pending) => count(pending, GRACE, false),
    /** `words` say what was done, and `run` undoes it. */
    offerUndo: (pending: Pending) => count(pending, UNDO, true),
    undo: () => {
      setLeft(null)
      if (isDone) void run()
    },
  }
}

export type Grace = ReturnType<typeof useGrace>
