import { classes } from '#app/_ui/classes.ts'
import { METER_WORDS, placeMeter, sayMeter, sayPast } from '#app/_ui/meter.rules.ts'
import { showMoney } from '#kernel/money'
import type { Meter } from '#money/proceeds/proceeds.contract'
import styles from './meter-piece.module.css'
import plate from './plate.module.css'

/** How far it is: the sum in words large enough for a phone, the four states as parts of one wire. */
export function MeterPiece({ meter }: { meter: Meter }) {
  const { parts, target, raisedMinor, lengthMinor } = placeMeter(meter)
  const show = (minor: number) => showMoney(minor, meter.currency, { short: true })
  const past = sayPast(meter, meter.currency)
  const percent = (fraction: number) => `${(fraction * 100).toFixed(2)}%`
  return (
    <div className={classes(plate.plate, styles.meter)}>
      <p className={styles.sum}>
        <b className={plate.main}>{show(raisedMinor)}</b> raised of {show(meter.targetMinor)}
        <span className={plate.quiet}>{past ?? (meter.bidMinor > 0 ? `${show(meter.bidMinor)} more in bids` : '')}</span>
      </p>
      {/* biome-ignore lint/a11y/useSemanticElements: a <meter> element cannot be drawn in four parts. */}
      <div
        className={styles.bar}
        role="meter"
        aria-label="Raised"
        aria-valuemin={0}
        aria-valuemax={lengthMinor}
        aria-valuenow={raisedMinor}
        aria-valuetext={sayMeter(meter, meter.currency)}
      >
        {parts.map(({ state, from, to }) => (
          <span
            key={state}
            className={classes(styles.part, styles[state])}
            title={METER_WORDS[state]}
            style={{ left: percent(from), width: percent(to - from) }}
          />
        ))}
        <span className={styles.target} style={{ left: percent(target) }} />
      </div>
    </div>
  )
}
