'use client'

import { useEffect, useState } from 'react'
import type { AirFrames, OverlayShow } from '../../../../server/air/air.contract'
import { type AirView, resultWords } from '../../../../server/air/host.rules'
import type { CreditMarks } from '../../../../server/credits/credits.contract'
import type { Instant } from '../../../../server/kernel/instant'
import { type Currency, showMoney } from '../../../../server/kernel/money'
import { showClock } from '../../../../server/programme/civil-time.rules'
import { api } from '../../../_trpc/client'
import { refusedBy } from '../../../_trpc/use-command'
import { useLive } from '../../../_trpc/use-live'
import { clockLeft } from '../../../_ui/countdown.rules'
import { Meter } from '../../../_ui/meter'
import { useAir } from '../use-air'
import styles from './overlay.module.css'
import { RollingCredits } from './rolling-credits'

/** How often an overlay asks whether its key still opens; a new key blanks the old overlays within this. */
const ASK_AGAIN_MS = 15_000

export interface OverlayScreenProps {
  initial: AirFrames
  serverNow: Instant
  shows: readonly OverlayShow[]
  overlayKey: string
}

/** What lies over the picture. It reads and changes nothing. */
export function OverlayScreen({ initial, serverNow, shows, overlayKey }: OverlayScreenProps) {
  const { now, view, programme, meter } = useAir(initial, serverNow)
  const isOpen = useStillOpen(overlayKey)
  if (!isOpen) return null
  const has = (show: OverlayShow) => shows.includes(show)
  return (
    <div className={styles.overlay}>
      <h1 className="visually-hidden">Overlay</h1>
      {has('credits') && <RollingCredits overlayKey={overlayKey} />}
      {has('names') && !has('credits') && view.lot && <Names lot={view.lot.number} overlayKey={overlayKey} />}
      {has('lot') && <LotCard view={view} now={now} currency={initial.currency} />}
      {has('next') && <Next view={view} zone={programme.zone} />}
      {has('meter') && (
        <div className={styles.meter}>
          <Meter size="air" {...meter} />
        </div>
      )}
    </div>
  )
}

function useStillOpen(key: string): boolean {
  const [isOpen, setIsOpen] = useState(true)
  useEffect(() => {
    const ask = () =>
      api.air.overlay
        .query({ key })
        .then((answer) => setIsOpen(answer.isOpen))
        // Not reached is not refused: the picture keeps what it shows.
        .catch((reason) => setIsOpen(refusedBy(reason).unreached))
    const timer = setInterval(ask, ASK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [key])
  return isOpen
}

function LotCard({ view, now, currency }: { view: AirView; now: Instant; currency: Currency }) {
  const { lot, cue } = view
  if (!lot) return null
  const isOver = cue?.key === 'result'
  const left = lot.closesAt === null ? null : lot.closesAt - now
  return (
    <div className={styles.card}>
      <div className={styles.tag}>
        <span className={styles.eyelet} aria-hidden="true" />
        <p className={styles.code}>
          Lot {lot.number} · {lot.unit}
        </p>
        <p className={styles.title}>{lot.title}</p>
      </div>
      <div className={styles.figures}>
        <p className={styles.price}>
          {isOver ? resultWords(lot, (minor) => showMoney(minor, currency, { short: true })) : standing(lot.standingMinor, currency)}
        </p>
        {!isOver && (
          <p className={styles.left}>{cue?.key === 'held' ? 'on hold' : left === null ? '' : left <= 0 ? 'closing' : clockLeft(left)}</p>
        )}
      </div>
    </div>
  )
}

const standing = (minor: number | null, currency: Currency): string =>
  minor === null ? 'no bid yet' : showMoney(minor, currency, { short: true })

function Next({ view, zone }: { view: AirView; zone: string }) {
  const coming = view.next.slice(0, 2)
  if (coming.length === 0) return null
  return (
    <p className={styles.next}>
      <span className={styles.quiet}>next</span>
      {coming.map((item) => (
        <span key={item.id}>
          <b className="num">{showClock(item.kind === 'closing' ? item.runsTo : item.startsAt, zone)}</b> {item.title}
        </span>
      ))}
    </p>
  )
}

/** Who agreed to be named on stream; a consent withdrawn vanishes with the next frame, which comes at once. */
function Names({ lot, overlayKey }: { lot: number; overlayKey: string }) {
  const [shown, setShown] = useState<{ mark: string | undefined; lot: number; names: readonly string[] } | null>(null)
  const { marks } = useLive<Partial<CreditMarks>>('credits', {})
  const mark = marks?.[`stream lot ${lot}`]
  useEffect(() => {
    let isCurrent = true
    api.air.overlayNames
      .query({ key: overlayKey, lot })
      .then((names) => isCurrent && setShown({ mark, lot, names }))
      // When it cannot be known who agrees, nobody is named.
      .catch(() => isCurrent && setShown(null))
    return () => {
      isCurrent = false
    }
  }, [lot, overlayKey, mark])
  const names = shown && shown.lot === lot && shown.mark === mark ? shown.names : []
  if (names.length === 0) return null
  return (
    <div className={styles.names}>
      <p className={styles.quiet}>with gifts from</p>
      <ul>
        {names.map((name) => (
          <li key={name}>{name}</li>
        ))}
      </ul>
    </div>
  )
}
