'use client'

import { useEffect, useState } from 'react'
import { useLiveness } from '#app/_trpc/use-live.ts'
import styles from './behind-note.module.css'

const LATE_AFTER_MS = 12_000
const DROPPED_AFTER_MS = 3_000

/** A page that follows the house says when what it shows may be old, and what troubles the house. */
export function BehindNote() {
  const { heardAt, connected, trouble } = useLiveness()
  const [silentMs, setSilent] = useState(0)
  useEffect(() => {
    const look = () => setSilent(heardAt === 0 ? 0 : performance.now() - heardAt)
    look()
    const timer = setInterval(look, 1000)
    return () => clearInterval(timer)
  }, [heardAt])
  const isBehind = silentMs > LATE_AFTER_MS || (!connected && silentMs > DROPPED_AFTER_MS)
  return (
    <p role="status" className={isBehind || trouble ? styles.behind : 'visually-hidden'}>
      {isBehind
        ? `Behind by ${Math.round(silentMs / 1000)} s: the house cannot be reached. What stands here may have changed; this page keeps trying.`
        : trouble}
    </p>
  )
}
