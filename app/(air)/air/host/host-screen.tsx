'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useEffect, useRef } from 'react'
import type { HostFrames } from '../../../../server/air/air.contract'
import type { AirView } from '../../../../server/air/host.rules'
import type { Instant } from '../../../../server/kernel/instant'
import { type Currency, showMoney } from '../../../../server/kernel/money'
import { showClock } from '../../../../server/programme/civil-time.rules'
import { sayOverTime } from '../../../../server/programme/day-words.rules'
import { classes } from '../../../_ui/classes'
import { clockLeft } from '../../../_ui/countdown.rules'
import { Meter } from '../../../_ui/meter'
import { useAir } from '../use-air'
import { ChangeDay } from './change-day'
import { CuePanel } from './cue-panel'
import { FeedAge } from './feed-age'
import { HoldControls } from './hold-controls'
import styles from './host.module.css'

export type Distance = 'near' | 'room' | 'hall'

export interface HostScreenProps {
  initial: HostFrames
  serverNow: Instant
  distance: Distance
}

/** Now, next, how late; one glance. Everything moves by itself and nothing scrolls. */
export function HostScreen({ initial, serverNow, distance }: HostScreenProps) {
  const { now, view, programme, meter, silentFor, connected } = useAir(initial, serverNow)
  const { zone } = programme
  const router = useRouter()
  const isHeld = view.cue?.key === 'held'
  // Somebody else may have stopped the clocks, or let them go on: why, and the button, come with the page.
  const wasHeld = useRef(isHeld)
  useEffect(() => {
    if (wasHeld.current !== isHeld) router.refresh()
    wasHeld.current = isHeld
  }, [isHeld, router])
  return (
    <div className={classes('air-ground', styles.host, styles[distance])}>
      <h1 className="visually-hidden">Host</h1>
      <header className={styles.top}>
        <span className={styles.clock}>{clockWithSeconds(now, zone)}</span>
        <span className={styles.over}>{sayOverTime(view.over)}</span>
        <FeedAge silentFor={silentFor} connected={connected} />
      </header>
      <div className={styles.middle}>
        <Moment view={view} now={now} currency={initial.currency} zone={zone} />
        {view.lot && view.cue && <CuePanel key={view.lot.number} lot={view.lot} cue={view.cue} now={now} currency={initial.currency} />}
      </div>
      <Meter size="air" {...meter} />
      <div className={styles.coming}>
        <span className={styles.label}>next</span>
        <ul className={styles.next} aria-label="Next">
          {[...view.on.map((item) => ({ item, isOn: true })), ...view.next.map((item) => ({ item, isOn: false }))]
            .slice(0, 3)
            .map(({ item, isOn }) => (
              <li key={item.id}>
                <b className="num">{isOn ? 'now' : showClock(item.kind === 'closing' ? item.runsTo : item.startsAt, zone)}</b>{' '}
                {item.kind === 'guest' ? `guest: ${item.title}` : item.title}
              </li>
            ))}
          {view.on.length + view.next.length === 0 && <li>nothing more is announced</li>}
        </ul>
      </div>
      <footer className={styles.foot}>
        <ChangeDay coming={programme.items.filter((item) => !item.isOver && item.runsTo > now)} zone={zone} />
        <HoldControls standing={initial.standingHold} />
        <Link href="/air/overlays">Overlays</Link>
      </footer>
    </div>
  )
}

function Moment({ view, now, currency, zone }: { view: AirView; now: Instant; currency: Currency; zone: string }) {
  const { lot, cue } = view
  if (!lot) return <p className={styles.idle}>No closing is announced. Talk to your guests.</p>
  const left = lot.closesAt === null ? null : lot.closesAt - now
  const isOver = cue?.key === 'result'
  const amount = isOver ? lot.hammerMinor : lot.standingMinor
  return (
    <div className={styles.moment}>
      <div>
        <p className={styles.label}>
          Lot {lot.number} {isOver ? 'has closed' : cue?.key === 'held' ? 'is held with' : 'closes in'}
        </p>
        {/* Silent to screen readers, which have the cue: a figure a second would drown it. */}
        <p className={styles.left} role="timer" aria-live="off">
          {isOver ? 'closed' : left === null ? 'no time yet' : left <= 0 ? '0:00' : clockLeft(left)}
        </p>
        {!isOver && lot.closesAt !== null && <p className={styles.label}>at {showClock(lot.closesAt, zone)}</p>}
      </div>
      <div>
        <p className={styles.label}>{isOver ? 'hammer price' : 'standing bid'}</p>
        <p className={styles.price}>{amount === null ? 'no bid' : showMoney(amount, currency, { short: true })}</p>
        <p className={styles.label}>{bidWords(lot.bids, lot.reserve)}</p>
      </div>
    </div>
  )
}

function bidWords(bids: number, reserve: 'none' | 'unreached' | 'reached'): string {
  const count = bids === 1 ? 'one bid' : `${bids} bids`
  return reserve === 'none' ? count : `${count}, reserve ${reserve === 'reached' ? 'reached' : 'not reached'}`
}

const clockWithSeconds = (now: Instant, zone: string): string => {
  const seconds = Math.floor((now % 60_000) / 1000)
  return `${showClock(now, zone)}:${String(seconds).padStart(2, '0')}`
}
