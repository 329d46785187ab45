import { type AirLot, resultWords } from '#air/screens/host.rules'
import { classes } from '#app/_ui/classes.ts'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import { showMoney } from '#kernel/money'
import { showClock, zonePlace } from '#kernel/wall-clock'
import { leftUntil } from '#sale/price/closing.rules'
import plate from './plate.module.css'
import styles from './price-piece.module.css'
import { TagPlate } from './tag-plate'
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
      <div className={classes(plate.plate, styles.figures)}>
        {isOver ? (
          <p className={plate.main}>{resultWords(lot, show)}</p>
        ) : (
          <>
            <div>
              <p className={classes(plate.figure, plate.copper, styles.value)}>
                {lot.standingMinor === null ? 'no bid' : show(lot.standingMinor)}
              </p>
              <p className={classes(plate.quiet, styles.words)}>{bidWords(lot)}</p>
            </div>
            <div className={styles.right}>
              <p className={classes(plate.figure, styles.value)} role="timer" aria-live="off">
                {leftWords(lot, now)}
              </p>
              <p className={classes(plate.quiet, styles.words)}>{closingWords(air, lot, now)}</p>
            </div>
          </>
        )}
      </div>
    </div>
  )
}

function bidWords({ bids, reserve }: AirLot): string {
  const count = bids === 0 ? 'no bid yet' : bids === 1 ? 'one bid' : `${bids} bids`
  if (reserve === 'none') return count
  return `${count}, reserve ${reserve === 'reached' ? 'reached' : 'not reached'}`
}

/** A clock that stands shows what was left when it was stopped. */
function leftWords({ closesAt, heldSince }: AirLot, now: number): string {
  if (closesAt === null) return ''
  const left = leftUntil(closesAt, now, heldSince)
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
