import type { GlanceCheck } from '#bench/faults/glance.contract'
import { plotOf } from './plot.rules'
import styles from './run.module.css'

const HIGH = 64

/** Every unit as a dot on one scale: a cross where it fails, a ring and its tag where it stands apart. */
export function DotPlot({ check }: { check: GlanceCheck }) {
  const { band, mean, spread, dots } = plotOf(check)
  const apart = check.readings.filter(({ isApart }) => isApart).map(({ tag }) => tag)
  const said = `${check.title}: ${check.readings.length === 1 ? 'one unit' : `${check.readings.length} units`}${apart.length > 0 ? `; ${apart.join(', ')} stands apart` : ''}. The figures are below.`
  return (
    <svg viewBox={`0 0 600 ${HIGH}`} className={styles.plot} role="img" aria-label={said}>
      <line className={styles.ground} x1="0" x2="600" y1="34" y2="34" />
      <rect className={styles.band} x={band.from} width={band.to - band.from} y="10" height="42" />
      {band.lower !== null && <line className={styles.post} x1={band.lower} x2={band.lower} y1="6" y2="56" />}
      {band.upper !== null && <line className={styles.post} x1={band.upper} x2={band.upper} y1="6" y2="56" />}
      {spread && <line className={styles.deviation} x1={spread.from} x2={spread.to} y1="58" y2="58" />}
      <line className={styles.mean} x1={mean} x2={mean} y1="8" y2="60" />
      {dots.map(({ tag, x, y, fails, isApart }) => (
        <g key={tag} transform={`translate(${x} ${y})`}>
          <title>{tag}</title>
          {fails ? <path className={styles.cross} d="M-6 -6L6 6M6 -6L-6 6" /> : <circle className={styles.dot} r="5.5" />}
          {isApart && (
            <>
              <circle className={styles.ring} r="11" />
              <text className={styles.tag} x={x > 480 ? -16 : 16} y="5" textAnchor={x > 480 ? 'end' : 'start'}>
                {tag}
              </text>
            </>
          )}
        </g>
      ))}
    </svg>
  )
}
