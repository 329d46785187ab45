import type { Sweep } from '#bench/units/sweep.rules'
import styles from './sweep-chart.module.css'
import { plotSweep, saySweep } from './sweep-chart.rules'

/** The table of a sweep, drawn. What it says in words stands below it for everybody. */
export function SweepChart({ sweep }: { sweep: Sweep }) {
  const plot = plotSweep(sweep)
  return (
    <div className={styles.chart}>
      <div className={styles.plot} role="img" aria-label={saySweep(sweep)}>
        <svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
          {plot.across.map(({ at }) => (
            <line key={`x${at}`} x1={at} x2={at} y1={0} y2={100} className={styles.grid} />
          ))}
          {plot.up.map(({ at }) => (
            <line key={`y${at}`} x1={0} x2={100} y1={at} y2={at} className={styles.grid} />
          ))}
          {plot.lines.map(({ name, points }, index) => (
            <polyline
              key={name}
              className={styles.line}
              data-line={index}
              points={points.map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join(' ')}
            />
          ))}
        </svg>
        {plot.up.map(({ shown, at }) => (
          <span key={shown} className={styles.up} style={{ top: `${at}%` }} aria-hidden="true">
            {shown}
          </span>
        ))}
        {plot.across.map(({ shown, at }) => (
          <span key={shown} className={styles.across} style={{ left: `${at}%` }} aria-hidden="true">
            {shown}
          </span>
        ))}
      </div>
      <p className="small quiet">
        {sweep.lines.map(({ name }, index) => (
          <span key={name} className={styles.name} data-line={index}>
            {name}
          </span>
        ))}
        over {sweep.across}. {saySweep(sweep)}
      </p>
    </div>
  )
}
