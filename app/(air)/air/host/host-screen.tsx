'use client'

import Link from 'next/link'
import { adviceAt } from '#air/screens/advice.rules'
import type { HostFrames } from '#air/screens/air.contract'
import { comingWords } from '#air/screens/host.rules'
import type { OverlayState } from '#air/screens/overlay.contract'
import { useLive } from '#app/_trpc/use-live.ts'
import { classes } from '#app/_ui/classes.ts'
import { Meter } from '#app/_ui/meter.tsx'
import type { Instant } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import { sayHeld, sayHeldBriefly, sayOverTime, sayRunsOn } from '#sale/programme/day-words.rules'
import { useAir } from '../use-air'
import { AdviceLine } from './advice-line'
import { ChangeDay } from './change-day'
import { CuePanel } from './cue-panel'
import { DISTANCES, type Distance } from './distance'
import { FeedAge } from './feed-age'
import styles from './host.module.css'
import { Moment } from './moment'
import { useGrace } from './use-grace'

export interface HostScreenProps {
  initial: HostFrames
  serverNow: Instant
  distance: Distance
}

/** Now, next, how late; one glance. Everything moves by itself and nothing scrolls, and every host's screen shows the same. */
export function HostScreen({ initial, serverNow, distance }: HostScreenProps) {
  const { now, view, programme, meter, silentFor, connected, trouble } = useAir(initial, serverNow)
  const { hold } = useLive<OverlayState>('overlay', { keyMadeAt: null, hold: initial.holdOfAll })
  const grace = useGrace()
  const isBrief = distance !== 'near'
  const { zone, items, closesAt } = programme
  const { lot, cue } = view
  const runOn = items.flatMap(({ isSoldElsewhere, isOver, runsTo, lot: number }) =>
    isSoldElsewhere && !isOver && runsTo > now && number ? [number] : [],
  )
  return (
    <div className={classes('air-ground', styles.host, styles[distance])}>
      <h1 className="visually-hidden">Host</h1>
      <header className={styles.top}>
        <span className={styles.clock}>{clockWithSeconds(now, zone)}</span>
        <span className={styles.over}>{hold ? sayHeld(now - hold.since) : sayOverTime(view.over)}</span>
        <FeedAge silentFor={silentFor} connected={connected} />
      </header>
      {trouble && (
        <p className={styles.held} role="alert">
          <b>{trouble}</b>
        </p>
      )}
      {hold && (
        <p className={styles.held} role="status">
          <b>
            {isBrief
              ? sayHeldBriefly(showClock(hold.since, zone), distance === 'hall' ? [] : runOn)
              : `${runOn.length === 0 ? 'All clocks' : 'All clocks here'} have been held since ${showClock(hold.since, zone)}.`}
          </b>{' '}
          {distance !== 'hall' && hold.reason} {!isBrief && sayRunsOn(runOn)}
        </p>
      )}
      <div className={styles.middle}>
        <Moment view={view} now={now} currency={initial.currency} zone={zone} />
        {lot && cue && <CuePanel key={lot.number} lot={lot} cue={cue} now={now} currency={initial.currency} isAfar={distance === 'hall'} />}
      </div>
      {!isBrief && (
        <>
          {hold ? <span /> : <AdviceLine advice={adviceAt({ items, now, endsAt: closesAt })} begin={grace.begin} />}
          <div className={styles.meter}>
            <Meter size="air" {...meter} />
          </div>
        </>
      )}
      <div className={styles.coming}>
        <span className={styles.label}>next</span>
        <ul className={styles.next} aria-label="Next">
          {[...view.on.map((item) => ({ item, isOn: true })), ...view.next.map((item) => ({ item, isOn: false }))]
            .slice(0, 3)
            .map(({ item, isOn }) => (
              <li key={item.id}>
                <b className="num">{isOn ? 'now' : showClock(item.kind === 'closing' ? item.runsTo : item.startsAt, zone)}</b>{' '}
                {comingWords(item)}
              </li>
            ))}
          {view.on.length + view.next.length === 0 && <li>nothing more is announced</li>}
        </ul>
      </div>
      <footer className={styles.foot}>
        <ChangeDay
          coming={items.filter((item) => !item.isOver && (item.isHeld || item.runsTo > now))}
          zone={zone}
          endsAt={closesAt}
          isHeld={hold !== null}
          grace={grace}
          isBrief={isBrief}
        />
        <nav className={styles.away} aria-label="This screen">
          {Object.entries(DISTANCES).map(([size, words]) => (
            <Link key={size} href={`/air/host?distance=${size}`} replace aria-current={size === distance ? 'true' : undefined}>
              {words}
            </Link>
          ))}
          <Link href="/air/producer">Producer</Link>
          <Link href="/air/run-sheet">Run sheet</Link>
          <Link href="/air/overlays">Overlays</Link>
        </nav>
      </footer>
    </div>
  )
}

const clockWithSeconds = (now: Instant, zone: string): string => {
  const seconds = Math.floor((now % 60_000) / 1000)
  return `${showClock(now, zone)}:${String(seconds).padStart(2, '0')}`
}
