'use client'

import { useEffect, useRef, useState } from 'react'
import { type Instant, MINUTE } from '#kernel/instant'
import { isLate, type LateBid } from '#sale/price/late-bid.rules'
import { classes } from './classes'
import styles from './countdown.module.css'
import { type CountdownState, clockLeft, countdownWords, saidNow } from './countdown.rules'
import { pictureLeft } from './picture-delay.rules'
import { useHouseNow } from './use-house-now'
import { usePictureDelay } from './use-picture-delay'
import { When } from './when'

const SPOKEN_STAYS = MINUTE

export interface CountdownProps {
  closesAt: Instant | null
  /** The server's clock when it made this page: the first thing shown. */
  serverNow: Instant
  /** Server less browser, ms, as the live stream measures it. */
  offset?: number
  /** The stream's zone. */
  zone: string
  /** `ended` once the house has said so. */
  state?: CountdownState
  /** Since when the clock stands: it shows what was left then. */
  heldSince?: Instant | null
  /** `words` "5 min 42 s", `clock` "5:42" for a screen across the room. */
  variant?: 'words' | 'clock'
  /** Leaves out the absolute time where it already stands close by. */
  bare?: boolean
  /** Within a card, where there is less room. */
  low?: boolean
  /** When a bid on it is late, by the lot's own terms; null where none is. */
  lateBid: LateBid | null
}

/** Time left by the house's clock. It never decides that a lot is closed: at nought it waits for the house. */
export function Countdown({
  closesAt,
  serverNow,
  offset,
  zone,
  state = 'running',
  heldSince = null,
  variant = 'words',
  bare = false,
  low = false,
  lateBid,
}: CountdownProps) {
  const now = useHouseNow(serverNow, closesAt, offset)
  const isTicking = state === 'running' && heldSince === null
  const spoken = useSpoken(isTicking && closesAt !== null ? closesAt - now : null)
  const delay = usePictureDelay(now)
  const late = delay && isTicking && closesAt !== null ? pictureLeft(closesAt - now, delay) : null
  const running = isTicking && closesAt !== null && closesAt > now
  const words = variant === 'clock' && running ? clockLeft(closesAt - now) : countdownWords(state, closesAt, now, heldSince)
  return (
    <div
      className={classes(
        styles.countdown,
        styles[variant],
        low && styles.low,
        !running && styles.said,
        running && lateBid !== null && isLate(closesAt, now, lateBid) && styles.last,
      )}
    >
      <span role="timer" aria-live="off" className={styles.left}>
        {words}
      </span>
      {isTicking && closesAt !== null && closesAt <= now && <span className={styles.wait}>waiting for the house to close it</span>}
      {late !== null && <span className={styles.at}>{late}</span>}
      {closesAt !== null && !bare && (
        <span className={styles.at}>
          {state === 'ended' ? 'closed ' : heldSince !== null ? 'was due ' : running ? 'closes ' : 'due '}
          <When at={closesAt} zone={zone} show={Math.abs(closesAt - serverNow) > 12 * 3_600_000 ? 'both' : 'time'} />
        </span>
      )}
      <span role="status" className="visually-hidden">
        {spoken}
      </span>
    </div>
  )
}

function useSpoken(left: number | null): string {
  const before = useRef(left)
  const [spoken, setSpoken] = useState('')
  useEffect(() => {
    const was = before.current
    before.current = left
    setSpoken((said) => saidNow(said, was, left))
  }, [left])
  // What was true a minute ago is not to be found by whoever reads the page through.
  useEffect(() => {
    if (spoken === '') return
    const timer = setTimeout(() => setSpoken(''), SPOKEN_STAYS)
    return () => clearTimeout(timer)
  }, [spoken])
  return spoken
}
