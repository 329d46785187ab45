import { resultWords } from '#air/screens/host.rules'
import { classes } from '#app/_ui/classes.ts'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { showClock, zonePlace } from '#kernel/wall-clock'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { leftUntil } from '#sale/price/closing.rules'
import styles from './end-pieces.module.css'
import { HeadCode, HeadDigits } from './head-code'
import plate from './plate.module.css'
import type { OverlayAir } from './use-overlay'

/** The lot whose result stands in the picture now; in the preview the one that closed last. */
export function resultNow({ view, lots }: OverlayAir, isExample: boolean): LotFrame | null {
  if (view.cue?.key === 'result') return lots.find(({ number }) => number === view.lot?.number) ?? null
  if (!isExample) return null
  return [...lots].filter(({ endedAt }) => endedAt !== null).sort((a, b) => (b.endedAt ?? 0) - (a.endedAt ?? 0))[0] ?? null
}

/** The whole picture is the result, said once the house has said it. */
export function ResultScreen({ air, lot, isOverNotice }: { air: OverlayAir; lot: LotFrame; isOverNotice: boolean }) {
  const { frames } = air
  const { zone } = frames.programme
  const words = resultWords(lot, (minor) => showMoney(minor, lot.currency, { short: true }))
  return (
    <div className={classes(styles.result, isOverNotice && styles.above)}>
      <div>
        <p className={plate.code}>
          Lot {lot.number} · {lot.unit}
        </p>
        <p className={classes(plate.main, plate.title)}>{lot.title}</p>
        <p className={classes(plate.figure, lot.state === 'sold' ? plate.copper : undefined)}>{words}</p>
        <p>
          {lot.bids === 1 ? 'One bid' : `${lot.bids} bids`}
          {lot.state === 'sold' && lot.leaderAlias && `, won by ${lot.leaderAlias}`}
        </p>
        <p className={plate.quiet}>
          {lot.endedAt !== null && `Closed ${showClock(lot.endedAt, zone)} ${zonePlace(zone)}, for ${frames.cause.name}`}
        </p>
      </div>
      {lot.headHash && (
        <figure className={styles.proof}>
          <HeadCode lot={lot.number} size={lot.ledgerSize} root={lot.headHash} publicUrl={frames.publicUrl} />
          <figcaption>
            <HeadDigits root={lot.headHash} />
            <span className={plate.quiet}>the head of {lot.ledgerSize} entries</span>
          </figcaption>
        </figure>
      )}
    </div>
  )
}

export interface Held {
  title: string
  reason: string
  since: Instant
  /** What was left when it was stopped. */
  left: number | null
}

/** What stands still now: all clocks, or that of the lot on air; in the preview as it would look. */
export function heldNow({ state, view, lots, now }: OverlayAir, isExample: boolean): Held | null {
  const lot = lots.find(({ number }) => number === view.lot?.number)
  const leftAt = (since: Instant) => (lot?.closesAt && lot.endedAt === null ? Math.max(0, leftUntil(lot.closesAt, now, since)) : null)
  if (state.hold) return { title: 'All clocks are stopped', ...state.hold, left: leftAt(state.hold.since) }
  if (lot && lot.heldSince !== null)
    return {
      title: `The clock of lot ${lot.number} stands still`,
      reason: lot.heldReason ?? '',
      since: lot.heldSince,
      left: leftAt(lot.heldSince),
    }
  return isExample
    ? { title: 'All clocks are stopped', reason: 'The reason that is given appears here.', since: now, left: leftAt(now) }
    : null
}

/** In the middle of the picture, or as a strip below a result, which it must not hide. */
export function HoldNotice({ air, held, isBelow }: { air: OverlayAir; held: Held; isBelow: boolean }) {
  const { zone } = air.frames.programme
  return (
    <div className={classes(plate.plate, styles.hold, isBelow && styles.below)}>
      <p className={classes(plate.main, plate.amber)}>‖ {held.title}</p>
      <p className={isBelow ? plate.title : undefined}>{held.reason}</p>
      {!isBelow && held.left !== null && (
        <p>
          <b className={plate.figure}>{clockLeft(held.left)}</b> <span className={plate.quiet}>left when it stopped</span>
        </p>
      )}
      <p className={plate.quiet}>
        Since {showClock(held.since, zone)} {zonePlace(zone)}.
        {!isBelow && ' No bid is lost: a clock restarts with the time that was left, or with fifteen minutes.'}
      </p>
    </div>
  )
}
