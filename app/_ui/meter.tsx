import { type Currency, showMoney } from '#kernel/money'
import { classes } from './classes'
import styles from './meter.module.css'
import { METER_WORDS, type MeterAmounts, placeMeter, sayMeter, sayPast } from './meter.rules'

export interface MeterProps extends MeterAmounts {
  currency: Currency
  /** `air` is read across a room. */
  size?: 'page' | 'air'
  /** Names the meter for those who hear it. */
  label?: string
}

const percent = (fraction: number) => `${(fraction * 100).toFixed(2)}%`

/** Proceeds against the target: paid and remitted solid, won hatched, standing bids outlined. */
export function Meter({ currency, size = 'page', label = 'Raised for the cause', ...amounts }: MeterProps) {
  const places = placeMeter(amounts)
  const past = sayPast(amounts, currency)
  const show = (minor: number) => showMoney(minor, currency, { short: true })
  return (
    <div className={classes(styles.meter, styles[size])}>
      <p className={styles.words}>
        <b className={styles.sum}>{show(places.raisedMinor)}</b> raised of <b>{show(amounts.targetMinor)}</b>
        {past && <span className={styles.past}> {past}</span>}
      </p>
      {/* A meter cannot hold more than its maximum: past the target the maximum is what was raised. */}
      {/* biome-ignore lint/a11y/useSemanticElements: a <meter> element cannot be drawn in four parts. */}
      <div
        role="meter"
        aria-label={label}
        aria-valuemin={0}
        aria-valuemax={Math.max(amounts.targetMinor, places.raisedMinor)}
        aria-valuenow={places.raisedMinor}
        aria-valuetext={sayMeter(amounts, currency)}
        className={styles.bar}
      >
        {places.parts.map(({ state, from, to }) => (
          <span key={state} className={classes(styles.part, styles[state])} style={{ left: percent(from), width: percent(to - from) }} />
        ))}
        {amounts.targetMinor > 0 && <span className={styles.target} style={{ left: percent(places.target) }} />}
      </div>
      <ul className={styles.key}>
        {places.parts.map(({ state, amountMinor }) => (
          <li key={state}>
            <span className={classes(styles.swatch, styles[state])} aria-hidden="true" />
            <b>{show(amountMinor)}</b> {METER_WORDS[state]}
          </li>
        ))}
        <li className={styles.aim}>
          <span className={styles.tick} aria-hidden="true" />
          target <b>{show(amounts.targetMinor)}</b>
        </li>
      </ul>
    </div>
  )
}
