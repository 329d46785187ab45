'use client'

import { useEffect, useState } from 'react'
import { hearTheHouse, useLiveness } from '#app/_trpc/use-live.ts'
import styles from './behind-note.module.css'

const LATE_AFTER_MS = 12_000
const DROPPED_AFTER_MS = 3_000

/**
 * A page that follows the house says when what it shows may be old, and what troubles the house. What troubled it when the page was
 * made stands there from the start, without script too.
 */
export function BehindNote({ given }: { given: string | null }) {
  const { heardAt, connected, trouble: heard } = useLiveness()
  const trouble = heardAt === 0 ? given : heard
  // A page that follows nothing hears only so that it is over.
  useEffect(() => (given === null ? undefined : hearTheHouse()), [given])
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
