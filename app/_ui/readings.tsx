import type { ReactNode } from 'react'
import type { Verdict } from '#bench/units/verdict.rules'
import { Gauge, type GaugeProps } from './gauge'
import { showLimits } from './gauge.rules'
import styles from './readings.module.css'
import { VerdictChip } from './verdict-chip'

export interface ReadingRow {
  /** The check's key, "B6". */
  check: string
  name: string
  href?: string
  /** Below the name: "after rework; was 13 dB", "taken while searching". */
  note?: ReactNode
  /** As it is to be read, with its unit: "8.02 V", "yes", "matches". */
  shown: string
  /** Absent for a yes, a match, or anything that lies on no scale. */
  gauge?: Omit<GaugeProps, 'name' | 'shown' | 'verdict' | 'size'>
  verdict: Verdict | null
}

/**
 * Readings against their limits, one gauge below another so that the eye runs down them. Narrow, a
 * row becomes two columns: what was measured on the left, where it stands on the right.
 */
export function Readings({ caption, rows }: { caption: string; rows: readonly ReadingRow[] }) {
  return (
    <div className={styles.room}>
      <table className={styles.readings}>
        <caption className="visually-hidden">{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Check</th>
            <th scope="col" className="num">
              Reading
            </th>
            <th scope="col" className="num">
              Limits
            </th>
            <th scope="col" className={styles.where}>
              Where it stands
            </th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Reading key={row.check} {...row} />
          ))}
        </tbody>
      </table>
    </div>
  )
}

function Reading({ check, name, href, note, shown, gauge, verdict }: ReadingRow) {
  return (
    <tr>
      <th scope="row">
        <b>{check}</b>
        {href ? (
          <>
            {' '}
            <a href={href}>{name}</a>
          </>
        ) : (
          ` ${name}`
        )}
        {note && <span>{note}</span>}
      </th>
      <td className="num">{shown}</td>
      <td className="num quiet">{gauge && showLimits(gauge.lower ?? null, gauge.upper ?? null)}</td>
      <td>{gauge && <Gauge {...gauge} name={name} shown={shown} verdict={verdict} />}</td>
      <td>{verdict && <VerdictChip verdict={verdict} />}</td>
    </tr>
  )
}
