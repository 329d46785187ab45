import type { Verdict } from '../../server/units/verdict.rules'
import { classes } from './classes'
import styles from './gauge.module.css'
import { type GaugePlaces, type GaugeReading, placeGauge, sayGauge, sayLimits } from './gauge.rules'

export interface GaugeProps extends GaugeReading {
  /** What was measured, as the checklist calls it. Begins the sentence read out. */
  name: string
  unit?: string
  /** The reading as it was entered, with its unit, when that differs from the plain number ("31.2 mA"). */
  shown?: string
  verdict?: Verdict | null
  /** `row` for a line of a table, `wide` for the one check at hand. */
  size?: 'row' | 'wide'
}

const percent = (fraction: number) => `${(fraction * 100).toFixed(2)}%`

/** A reading against its limits. The pass band fills the middle half, an open side runs out in chevrons. */
export function Gauge({ name, unit = '', shown, verdict = null, size = 'row', ...reading }: GaugeProps) {
  const { lower = null, upper = null, doubt = null } = reading
  const places = placeGauge(reading)
  const words = {
    name,
    value: shown ?? `${reading.value}${unit ? ` ${unit}` : ''}`,
    limits: sayLimits(lower, upper, unit),
    doubt: doubt ? `${doubt}${unit ? ` ${unit}` : ''}` : null,
    verdict,
  }
  const exact = lower !== null && lower === upper
  return (
    <svg className={classes(styles.gauge, styles[size], styles[toneOf(verdict)])} role="img" aria-label={sayGauge(words, places)}>
      <rect className={styles.ground} x="0" y="40%" width="100%" height="20%" rx="2" />
      {exact ? <Pips /> : <Band places={places} />}
      {places.nominal !== null && !exact && (
        <line className={styles.nominal} x1={percent(places.nominal)} x2={percent(places.nominal)} y1="30%" y2="70%" />
      )}
      {places.doubt && (
        <rect
          className={styles.doubt}
          x={percent(places.doubt.from)}
          width={percent(Math.max(0, places.doubt.to - places.doubt.from))}
          y="35%"
          height="30%"
          rx="2"
        />
      )}
      <Value places={places} verdict={verdict} />
    </svg>
  )
}

/** The permitted band with a post at each limit; where there is none, chevrons say that it goes on. */
function Band({ places }: { places: GaugePlaces }) {
  const { opening, lower, upper } = places
  if (opening === 'no-limits') return null
  const from = lower ?? 0
  const to = upper ?? 1
  return (
    <>
      <rect className={styles.band} x={percent(from)} width={percent(to - from)} y="25%" height="50%" />
      {lower !== null && <line className={styles.post} x1={percent(lower)} x2={percent(lower)} y1="14%" y2="86%" />}
      {upper !== null && <line className={styles.post} x1={percent(upper)} x2={percent(upper)} y1="14%" y2="86%" />}
      {opening === 'open-below' && <Chevrons at={[0.04, 0.09, 0.14]} turn={180} />}
      {opening === 'open-above' && <Chevrons at={[0.86, 0.91, 0.96]} turn={0} />}
    </>
  )
}

function Chevrons({ at, turn }: { at: number[]; turn: 0 | 180 }) {
  return at.map((place) => (
    <svg key={place} x={percent(place)} y="50%" overflow="visible" aria-hidden="true">
      <path className={styles.chevron} d="M-2 -4L2 0L-2 4" transform={`rotate(${turn})`} />
    </svg>
  ))
}

/** One figure is right and no other: nine sockets, the middle one wanted. */
function Pips() {
  return [0, 1, 2, 3, 4, 5, 6, 7, 8].map((step) => (
    <circle key={step} className={step === 4 ? styles.wanted : styles.pip} cx={percent(step / 8)} cy="50%" r={step === 4 ? 7 : 2} />
  ))
}

/** A bar that passed, a diamond in doubt, a cross that failed; an arrow where the scale ends. */
function Value({ places, verdict }: { places: GaugePlaces; verdict: Verdict | null }) {
  const inset = places.off === 'low' ? 7 : places.off === 'high' ? -7 : 0
  return (
    <svg x={percent(places.value)} y="50%" overflow="visible" aria-hidden="true">
      <g transform={`translate(${inset})`}>
        {places.off ? (
          <path className={styles.solid} d="M-5 -8L6 0L-5 8Z" transform={`rotate(${places.off === 'low' ? 180 : 0})`} />
        ) : verdict === 'fail' ? (
          <path className={styles.cross} d="M-6 -7L6 7M6 -7L-6 7" />
        ) : verdict === 'pass within doubt' || verdict === 'fail within doubt' ? (
          <path className={verdict === 'pass within doubt' ? styles.solid : styles.hollow} d="M0 -10L6.5 0L0 10L-6.5 0Z" />
        ) : (
          <rect className={styles.solid} x="-2.2" y="-11" width="4.4" height="22" rx="1.5" />
        )}
      </g>
    </svg>
  )
}

function toneOf(verdict: Verdict | null): 'passed' | 'doubtful' | 'failed' | 'unjudged' {
  if (verdict === null) return 'unjudged'
  if (verdict === 'pass') return 'passed'
  return verdict === 'fail' ? 'failed' : 'doubtful'
}
