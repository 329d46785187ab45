import { classes } from '#app/_ui/classes.ts'
import { isZone } from '#kernel/civil'
import type { Instant } from '#kernel/instant'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import styles from './day-pieces.module.css'
import { resultNow } from './end-pieces'
import { HeadCode, HeadDigits } from './head-code'
import plate from './plate.module.css'
import type { OverlayAir } from './use-overlay'
import { useTenths } from './use-tenths'

const SHOWN = 3

/** The next lots that close, by the stream's clock and by a second that the address names. */
export function NextLots({ air, zone }: { air: OverlayAir; zone: string | null }) {
  const { programme } = air.frames
  const second = zone !== null && isZone(zone) && zone !== programme.zone ? zone : null
  const coming = comingLots(air).slice(0, SHOWN)
  if (coming.length === 0) return null
  return (
    <div className={classes(plate.plate, styles.next)}>
      <p className={plate.quiet}>Closing next</p>
      <p className={classes(plate.quiet, styles.zone)}>{zonePlace(programme.zone)}</p>
      <p className={classes(plate.quiet, styles.zone)}>{second && zonePlace(second)}</p>
      {coming.map(({ id, title, runsTo }) => (
        <div key={id} className={styles.row}>
          <p className={styles.lotTitle}>{title}</p>
          <b className={styles.time}>{showClock(runsTo, programme.zone)}</b>
          <b className={styles.time}>{second && elsewhere(runsTo, programme.zone, second)}</b>
        </div>
      ))}
    </div>
  )
}

/** "05:40 Sun" where it is another day there. */
function elsewhere(at: Instant, home: string, zone: string): string {
  const there = showDay(at, zone)
  return there === showDay(at, home) ? showClock(at, zone) : `${showClock(at, zone)} ${there.slice(0, 3)}`
}

/** The lot whose moment it is stands in the picture already. */
function comingLots({ programme, view }: OverlayAir): ProgrammeItem[] {
  const hasBegun = view.cue !== null && view.cue.key !== 'wait' && view.cue.key !== 'result'
  return programme.items
    .filter(({ kind, isOver, lot }) => kind === 'closing' && !isOver && !(hasBegun && lot === view.lot?.number))
    .sort((a, b) => a.runsTo - b.runsTo)
}

/** Whom it is for, and where to bid. */
export function CauseLine({ air }: { air: OverlayAir }) {
  const { cause, publicUrl } = air.frames
  const share = cause.shareBp === 10_000 ? 'All of it' : `${cause.shareBp / 100} %`
  return (
    <p className={classes(plate.plate, styles.cause)}>
      <b>
        {share} goes to {cause.name}
      </b>{' '}
      <span className={styles.address}>{new URL(publicUrl).host}</span>
    </p>
  )
}

/** The house's clock, by which a watcher measures how late the picture is; after a close the head of the lot's history. */
export function ClockPiece({ air }: { air: OverlayAir }) {
  const now = useTenths()
  const { zone } = air.frames.programme
  const closed = resultNow(air, false)
  return (
    <div className={classes(plate.plate, styles.clock)}>
      {closed?.headHash && (
        <div className={styles.strip}>
          <HeadCode lot={closed.number} size={closed.ledgerSize} root={closed.headHash} publicUrl={air.frames.publicUrl} />
          <p>
            <span className={plate.quiet}>Lot {closed.number}, head of its history</span>
            <HeadDigits root={closed.headHash} />
          </p>
        </div>
      )}
      <p className={styles.second}>
        {now === null ? '--:--:--' : clockOf(now, zone)}
        <span className={styles.tenth}>{now !== null && `.${Math.floor((now % 1000) / 100)}`}</span>
      </p>
      <p className={plate.quiet}>house clock, {zonePlace(zone)}</p>
    </div>
  )
}

export const clockOf = (now: Instant, zone: string): string =>
  `${showClock(now, zone)}:${String(Math.floor((now % 60_000) / 1000)).padStart(2, '0')}`
