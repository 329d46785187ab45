'use client'

import { useEffect, useState } from 'react'

/** Longer than a finger is on its way to what it saw. */
const MOMENT = 800

/** `value` once it has stood for a moment: what is drawn from it does not move under a finger. */
export function useSettled(value: number): number {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), MOMENT)
    return () => clearTimeout(timer)
  }, [value])
  return settled
}
