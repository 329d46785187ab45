import { type AirView, figureWords } from '#air/screens/host.rules'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import type { Instant } from '#kernel/instant'
import { type Currency, showMoney } from '#kernel/money'
import { showClock } from '#kernel/wall-clock'
import { leftUntil } from '#sale/price/closing.rules'
import styles from './host.module.css'

/** So many characters of a title go into one line across a room, beside the lot's number. */
const ONE_LINE = 28

/** The lot whose moment it is: how long is left, and what it stands at. */
export function Moment({ view, now, currency, zone }: { view: AirView; now: Instant; currency: Currency; zone: string }) {
  const { lot, cue } = view
  if (!lot) return <p className={styles.idle}>No closing is announced. Talk to your guests.</p>
  const left = lot.closesAt === null ? null : leftUntil(lot.closesAt, now, lot.heldSince)
  const isOver = cue?.key === 'result'
  const { figure, below } = figureWords(lot, isOver, (minor) => showMoney(minor, currency, { short: true }))
  const closes = !isOver && lot.closesAt !== null && lot.heldSince === null ? `, at ${showClock(lot.closesAt, zone)}` : ''
  return (
    <div className={styles.moment}>
      <p className={styles.label}>
        Lot {lot.number} {isOver ? 'has closed' : cue?.key === 'held' ? 'is held with' : 'closes in'}
      </p>
      {/* Silent to screen readers, which have the cue: a figure a second would drown it. */}
      <p className={isOver || left === null ? styles.leftWords : styles.left} role="timer" aria-live="off">
        {isOver ? 'closed' : left === null ? 'no time yet' : left <= 0 ? '0:00' : clockLeft(left)}
      </p>
      <p className={styles.price}>{figure}</p>
      <p className={styles.label}>
        {below}
        {closes}
      </p>
      <p className={styles.title} data-long={lot.title.length > ONE_LINE ? '' : undefined}>
        Lot {lot.number}: {lot.title}
      </p>
    </div>
  )
}
