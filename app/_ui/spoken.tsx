'use client'

import { useEffect, useState } from 'react'
import { nextSpoken, type Spoken as State } from './spoken.rules'

/** Reads out `words` when they change, not more than every ten seconds; what stood there when the page came is not said again. */
export function Spoken({ words }: { words: string }) {
  const [spoken, setSpoken] = useState<State>({ words: '', known: words, at: null })
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>
    const look = (before: State) => {
      const next = nextSpoken(before, words, Date.now())
      if (next.spoken !== before) setSpoken(next.spoken)
      else if (next.again !== null) timer = setTimeout(look, next.again, before)
    }
    look(spoken)
    return () => clearTimeout(timer)
  }, [words, spoken])
  return (
    <span role="status" className="visually-hidden">
      {spoken.words}
    </span>
  )
}
