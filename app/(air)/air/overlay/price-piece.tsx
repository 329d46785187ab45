import { type AirLot, resultWords } from '#air/screens/host.rules'
import { classes } from '#app/_ui/classes.ts'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import { showMoney } from '#kernel/money'
import { showClock, zonePlace } from '#sale/programme/civil-time.rules'
import styles from './overlay.module.css'
import type { OverlayAir } from './use-overlay'

/** What it is, what it costs, how long is left: the three that a small picture must carry. */
export function PricePiece({ air }: { air: OverlayAir }) {
  const { view, now, frames } = air
  const { lot, cue } = view
  if (!lot) return null
  const show = (minor: number) => showMoney(minor, frames.currency, { short: true })
  const isOver = cue?.key === 'result'
  return (
    <div className={styles.price}>
      <TagPlate lot={lot} />
      <div className={classes(styles.plate, styles.figures)}>
        {isOver ? (
          <p className={styles.main}>{resultWords(lot, show)}</p>
        ) : (
          <>
            <div>
              <p className={classes(styles.figure, styles.copper)}>{lot.standingMinor === null ? 'no bid' : show(lot.standingMinor)}</p>
              <p className={styles.quiet}>{bidWords(lot)}</p>
            </div>
            <div className={styles.right}>
              <p className={styles.figure} role="timer" aria-live="off">
                {leftWords(air, lot)}
              </p>
              <p className={styles.quiet}>{closingWords(air, lot, now)}</p>
            </div>
          </>
        )}
      </div>
    </div>
  )
}

export function TagPlate({ lot }: { lot: Pick<AirLot, 'number' | 'unit' | 'title'> }) {
  return (
    <div className={styles.tag}>
      <span className={styles.eyelet} aria-hidden="true" />
      <p className={styles.code}>
        Lot {lot.number} · {lot.unit}
      </p>
      <p className={classes(styles.main, styles.title)}>{lot.title}</p>
    </div>
  )
}

function bidWords({ bids, reserve }: AirLot): string {
  const count = bids === 0 ? 'no bid yet' : bids === 1 ? 'one bid' : `${bids} bids`
  if (reserve === 'none') return count
  return `${count}, reserve ${reserve === 'reached' ? 'reached' : 'not reached'}`
}

/** A clock that stands shows what was left when it was stopped. */
function leftWords({ now, lots }: OverlayAir, lot: AirLot): string {
  if (lot.closesAt === null) return ''
  const heldSince = lot.state === 'held' ? (lots.find(({ number }) => number === lot.number)?.heldSince ?? now) : null
  const left = lot.closesAt - (heldSince ?? now)
  return left <= 0 ? '0:00' : clockLeft(left)
}

function closingWords({ frames, lots }: OverlayAir, lot: AirLot, now: number): string {
  if (lot.closesAt === null) return 'no time yet'
  if (lot.state === 'held') return 'clock stopped'
  if (lot.closesAt <= now) return 'being confirmed'
  const { zone } = frames.programme
  const extended = lots.find(({ number }) => number === lot.number)?.extendedTimes ?? 0
  return `${extended > 0 ? 'extended to' : 'closes'} ${showClock(lot.closesAt, zone)} ${zonePlace(zone)}`
}
