'use client'

import type { MouseEvent } from 'react'
import { Chip } from '#app/_ui/chip.tsx'
import { type CountdownState, countdownWords } from '#app/_ui/countdown.rules.ts'
import { sayClock } from '#app/_ui/when.rules.ts'
import { countdownState, sayElsewhere, sayStanding } from '#app/(public)/_lots/say-lot.rules.ts'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { comesTo, fellThrough } from '#sale/price/result.rules'
import styles from './bid-strip.module.css'

interface BidStripProps {
  frame: LotFrame
  alias: string | null
  now: Instant
  /** When the house made the page, in the zone of the sale: without script the strip says as of when it is. */
  asOf: { at: Instant; zone: string }
  /** What opens the form; null where there is nothing to open. */
  action: string | null
  isElsewhere: boolean
  /** It stands above already that the reader was outbid, and by whom. */
  isOutbidSaid: boolean
  isOpen: boolean
  onToggle: () => void
}

/** On a phone: price, time, who leads and the way to bid, always in sight. Without script its link shows the form as well. */
export function BidStrip({ frame, alias, now, asOf, action, isElsewhere, isOutbidSaid, isOpen, onToggle }: BidStripProps) {
  const amount = (frame.hammerMinor === null ? null : comesTo(frame)) ?? frame.standingMinor ?? frame.openingMinor
  const state: CountdownState = countdownState(frame.state)
  const toggle = (event: MouseEvent) => {
    event.preventDefault()
    onToggle()
  }
  return (
    <div className={styles.strip}>
      <p className={styles.figures}>
        <b>{fellThrough(frame) ? 'Not sold' : amount === null ? 'No price yet' : showMoney(amount, frame.currency, { short: true })}</b>{' '}
        <span>{countdownWords(state, frame.endedAt ?? frame.closesAt, now, frame.heldSince)}</span>
      </p>
      <p className={styles.lead}>{isElsewhere ? sayElsewhere(frame) : <Lead {...{ frame, alias, isOutbidSaid }} />}</p>
      <noscript className={styles.asOf}>as of {sayClock(asOf.at, asOf.zone)}</noscript>
      {action !== null && (
        // biome-ignore lint/a11y/useValidAnchor: without script it leads to the form, which it shows
        <a className="button" href="#bid" aria-expanded={isOpen} aria-controls="bid-form" onClick={toggle}>
          {isOpen ? 'Hide' : action}
        </a>
      )}
    </div>
  )
}

function Lead({ frame, alias, isOutbidSaid }: Pick<BidStripProps, 'frame' | 'alias' | 'isOutbidSaid'>) {
  const isRunning = frame.state === 'open' || frame.state === 'held'
  if (alias !== null && frame.voidedAliases.includes(alias)) return <Chip tone="bad">Your bids were voided</Chip>
  if (alias !== null && frame.state === 'sold')
    return frame.leaderAlias === alias ? <Chip tone="ok">You won it</Chip> : 'You did not win it'
  if (alias !== null && isRunning) {
    if (frame.leaderAlias === alias) return <Chip tone="ok">You lead</Chip>
    return isOutbidSaid ? null : <Chip tone="bad">You are outbid</Chip>
  }
  if (!isRunning) return sayStanding(frame)
  return frame.leaderAlias === null ? 'No bids yet' : `Alias ${frame.leaderAlias} leads`
}
