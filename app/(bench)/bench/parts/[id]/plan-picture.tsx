import type { Spread } from '#stock/shelf/draw.rules'
import { chanceToPass, limitingQuality } from '#stock/shelf/sampling.rules'
import styles from './plan-picture.module.css'

interface Plan {
  sample: number
  accept: number
}

const WIDE = 320
const HIGH = 120
const STEPS = 40

/** What a plan lets through of one batch alone: its curve, and two points of it in words. */
export function PlanCurve({ quantity, plan }: { quantity: number; plan: Plan }) {
  const limit = limitingQuality(quantity, plan)
  const most = Math.min(quantity, Math.max(limit * 1.5, quantity / 10))
  const at = (bad: number) =>
    `${((bad / most) * WIDE).toFixed(1)},${((1 - chanceToPass(quantity, Math.round(bad), plan)) * HIGH).toFixed(1)}`
  const points = Array.from({ length: STEPS + 1 }, (_, step) => at((step / STEPS) * most))
  const tenth = Math.max(1, Math.round(quantity / 10))
  const share = Math.round(100 * chanceToPass(quantity, tenth, plan))
  const words = `${plan.sample}/${plan.accept} of ${quantity} lets a batch with ${badOnes(tenth)} through ${share < 1 ? 'less than once' : `${share} times`} in 100, and one with ${badOnes(limit)} (${((100 * limit) / quantity).toFixed(1)} %) at most 10 times in 100.`
  return (
    <figure className={styles.curve}>
      <svg viewBox={`-4 -4 ${WIDE + 8} ${HIGH + 8}`} role="img" aria-label={words}>
        <path className={styles.axes} d={`M0 0V${HIGH}H${WIDE}`} />
        <path className={styles.tenth} d={`M0 ${HIGH * 0.9}H${WIDE}`} />
        <polyline className={styles.line} points={points.join(' ')} />
      </svg>
      <figcaption className="small">
        {words} <span className="quiet">Across: none to {Math.round(most)} bad; up: how often it is accepted.</span>
      </figcaption>
    </figure>
  )
}

const badOnes = (count: number) => (count === 1 ? 'one bad one' : `${count} bad ones`)

/** Which to take, so that no eye chooses. */
export function Draw({ numbers, quantity }: { numbers: number[]; quantity: number }) {
  return (
    <details>
      <summary>Draw at random: numbers to draw by</summary>
      <p className="small">
        Lay all {quantity} out in a row, or count them off as they leave the bag, and test those at these places: a handful from the top is
        no sample.
      </p>
      <p className="num">{numbers.join(', ')}</p>
    </details>
  )
}

/** What a sample measured: mean, spread, and each figure as a dot. */
export function Measured({ unit, figures, spread }: { unit: string; figures: number[]; spread: Spread }) {
  const { mean, deviation, least, most, count } = spread
  const x = (value: number) => (most === least ? WIDE / 2 : ((value - least) / (most - least)) * WIDE)
  const words = `${count === 1 ? 'One figure' : `${count} figures`}: mean ${plain(mean)} ${unit}${deviation === null ? '' : `, standard deviation ${plain(deviation)} ${unit}`}, from ${plain(least)} to ${plain(most)} ${unit}.`
  return (
    <figure className={styles.curve}>
      <svg viewBox={`-8 0 ${WIDE + 16} 40`} role="img" aria-label={words}>
        <path className={styles.axes} d={`M0 30H${WIDE}`} />
        <path className={styles.tenth} d={`M${x(mean).toFixed(1)} 4V36`} />
        {[...figures.entries()].map(([index, value]) => (
          <circle key={index} className={styles.dot} cx={x(value).toFixed(1)} cy={22 - (index % 3) * 6} r="3" />
        ))}
      </svg>
      <figcaption className="small">{words}</figcaption>
    </figure>
  )
}

const plain = (value: number) => String(Number(value.toPrecision(4))).replace('-', '−')
