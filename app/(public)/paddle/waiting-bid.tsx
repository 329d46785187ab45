'use client'

import { useEffect, useState } from 'react'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { countdownWords } from '#app/_ui/countdown.rules.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { countdownState } from '#app/(public)/_lots/say-lot.rules.ts'
import { readAmount } from '#app/(public)/lots/[number]/amount.rules.ts'
import { OTHER } from '#app/(public)/lots/[number]/draft.rules.ts'
import { keptAmount } from '#app/(public)/lots/[number]/kept-amount.ts'
import { showMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import styles from './waiting-bid.module.css'

/** The lot that somebody was about to bid on stays in sight while they take their paddle: its price, its time, and what they would bid. */
export function WaitingBid({ initial }: { initial: LotFrame }) {
  const frame = useLive<LotFrame>(`lot:${initial.number}`, initial)
  const { offset } = useLiveness()
  const now = useHouseNow(frame.serverNow, frame.closesAt, offset)
  const [waiting, setWaiting] = useState<number | null>(null)
  useEffect(() => {
    const kept = keptAmount(initial.number)
    const amount = kept && (kept.choice === OTHER ? readAmount(kept.typed, initial.currency) : Number(kept.choice))
    if (typeof amount === 'number' && amount > 0) setWaiting(amount)
  }, [initial])
  const price = frame.hammerMinor ?? frame.standingMinor ?? frame.openingMinor
  const show = (minor: number) => showMoney(minor, frame.currency, { short: true })
  return (
    <p className={styles.line}>
      Lot {frame.number}: <b>{price === null ? 'no price yet' : show(price)}</b>{' '}
      <span>{countdownWords(countdownState(frame.state), frame.endedAt ?? frame.closesAt, now, frame.heldSince)}</span>
      {waiting !== null && frame.state === 'open' && <span>. Next, your bid up to {show(waiting)}: one tap once you have your paddle</span>}
    </p>
  )
}
