import { doubtShort } from '#bench/certificates/sentences.rules'
import type { Verdict } from '#bench/units/verdict.rules'
import { classes } from './classes'
import styles from './gauge.module.css'
import { type GaugePlaces, type GaugeReading, placeGauge, sayFigure, sayGauge, sayLimits } from './gauge.rules'

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

// A tenth of a percent is less than a pixel on the widest gauge.
const percent = (fraction: number) => `${Number((fraction * 100).toFixed(1))}%`

/** A reading against its limits. The pass band fills the middle half, an open side runs out in chevrons. */
export function Gauge({ name, unit = '', shown, verdict = null, size = 'row', ...reading }: GaugeProps) {
  const { lower = null, upper = null, doubt = null } = reading
  const places = placeGauge(reading)
  const words = {
    name,
    value: shown ?? `${sayFigure(reading.value)}${unit ? ` ${unit}` : ''}`,
    limits: sayLimits(lower, upper, unit),
    doubt: doubt ? `${doubtShort(doubt)}${unit ? ` ${unit}` : ''}` : null,
    verdict,
  }
  const exact = lower !== null && lower === upper
  return (
    <svg className={classes(styles.gauge, size, toneOf(verdict))} role="img" aria-label={sayGauge(words, places)}>
      <rect className="ground" />
      {exact ? <Pips /> : <Band places={places} />}
      {places.nominal !== null && !exact && <rect className="nominal" x={percent(places.nominal)} />}
      {places.doubt && (
        <rect className="doubt" x={percent(places.doubt.from)} width={percent(Math.max(0, places.doubt.to - places.doubt.from))} />
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
      <rect className="band" x={percent(from)} width={percent(to - from)} />
      {lower !== null && <rect className="post" x={percent(lower)} />}
      {upper !== null && <rect className="post" x={percent(upper)} />}
      {opening === 'open-below' && <Chevrons at={0.09} turn={180} />}
      {opening === 'open-above' && <Chevrons at={0.91} turn={0} />}
    </>
  )
}

/** Three of them side by side; `at` is where the middle one stands. */
function Chevrons({ at, turn }: { at: number; turn: 0 | 180 }) {
  return (
    <svg x={percent(at)} y="50%" aria-hidden="true">
      <path className="chevron" d="M-11-4l4 4l-4 4m7-8l4 4l-4 4m7-8l4 4l-4 4" transform={turn === 0 ? undefined : 'rotate(180)'} />
    </svg>
  )
}

/** One figure is right and no other: nine sockets, the middle one wanted. */
function Pips() {
  return [0, 1, 2, 3, 4, 5, 6, 7, 8].map((step) => (
    <circle key={step} className={step === 4 ? 'wanted' : 'pip'} cx={percent(step / 8)} cy="50%" r={step === 4 ? 7 : 2} />
  ))
}

/** A bar that passed, a diamond in doubt, a cross that failed; an arrow where the scale ends. */
function Value({ places, verdict }: { places: GaugePlaces; verdict: Verdict | null }) {
  const inset = places.off === 'low' ? 7 : places.off === 'high' ? -7 : 0
  return (
    <svg x={percent(places.value)} y="50%" aria-hidden="true">
      <g transform={inset === 0 ? undefined : `translate(${inset})`}>
        {places.off ? (
          <path className="solid" d="M-5 -8L6 0L-5 8Z" transform={`rotate(${places.off === 'low' ? 180 : 0})`} />
        ) : verdict === 'fail' ? (
          <path className="cross" d="M-6 -7L6 7M6 -7L-6 7" />
        ) : verdict === 'pass within doubt' || verdict === 'fail within doubt' ? (
          <path className={verdict === 'pass within doubt' ? 'solid' : 'hollow'} d="M0 -10L6.5 0L0 10L-6.5 0Z" />
        ) : (
          <path className="solid" d="M-2.2-11h4.4v22h-4.4z" />
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
