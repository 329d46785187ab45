'use client'

import { showMoney } from '#kernel/money'
import type { DayPoint } from '#money/pictures/day.rules'
import type { DayFrame } from '#money/pictures/pictures.contract'
import type { Meter } from '#money/proceeds/proceeds.contract'
import { useLive } from '../_trpc/use-live'
import { classes } from './classes'
import styles from './meter-day.module.css'
import { plotDay, sayDay, withNow } from './meter-day.rules'
import { MeterDayTable } from './meter-day-table'
import { useHouseNow } from './use-house-now'

/** What counted through the stream day, as steps, with each close. The table says the same. */
export function MeterDay({ initial, meter: firstMeter, isPast = false }: { initial: DayFrame; meter: Meter; isPast?: boolean }) {
  const present = useLive<DayFrame>('day', initial)
  // What is told live is the day at hand: an earlier one stays as it was.
  const day = isPast ? initial : present
  const meter = useLive<Meter>('meter', firstMeter)
  const now = useHouseNow(initial.at, day.toAt)
  const { currency, zone } = day
  const point: DayPoint = {
    at: Math.min(Math.max(now, day.fromAt), day.toAt),
    bidMinor: meter.bidMinor,
    wonMinor: meter.wonMinor,
    paidMinor: meter.paidMinor + meter.remittedMinor,
  }
  // After the last closing the line ends: what came later is in the meter.
  const points = now < day.fromAt ? [] : now >= day.toAt ? day.points : withNow(day.points, point)
  if (points.length === 0) return <p className="quiet">The line of the day begins with the stream.</p>
  const plot = plotDay(day, points)
  const show = (minor: number) => showMoney(minor, currency, { short: true })
  const rows = Math.max(0, ...plot.closes.map(({ row }) => row)) + 1
  return (
    <figure className={styles.figure}>
      <div className={styles.plot} role="img" aria-label={sayDay(points.at(-1), day, currency)}>
        {plot.levels.map(({ amountMinor, at }) => (
          <div key={amountMinor} className={styles.level} style={{ top: `${at}%` }}>
            <span>{show(amountMinor)}</span>
          </div>
        ))}
        <div className={styles.area}>
          {plot.layers.map(({ layer, outline }) => (
            <div
              key={layer}
              className={classes(styles.layer, styles[layer])}
              style={{ clipPath: `polygon(${outline.map(([x, y]) => `${x.toFixed(2)}% ${y.toFixed(2)}%`).join(', ')})` }}
            />
          ))}
          <svg className={styles.lines} viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
            {plot.layers.map(({ layer, outline }) => (
              <path
                key={layer}
                className={styles[`${layer}Line`]}
                d={outline
                  .slice(0, outline.length / 2)
                  .map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(2)} ${y.toFixed(2)}`)
                  .join('')}
              />
            ))}
          </svg>
          {plot.closes.map(({ lot, at }) => (
            <span key={lot} className={styles.post} style={{ left: `${at}%` }} />
          ))}
          <div className={styles.target} style={{ top: `${plot.targetAt}%` }}>
            <span>target {show(day.targetMinor)}</span>
          </div>
        </div>
      </div>
      <div className={styles.under} style={{ height: `${rows * 1.7 + 1.6}em` }} aria-hidden="true">
        {plot.closes.map(({ lot, at, row }) => (
          <span key={lot} className={styles.close} style={{ left: `${at}%`, top: `${row * 1.7}em` }}>
            {lot}
          </span>
        ))}
        {plot.hours.map(({ words, at }) => (
          <span key={at} className={styles.hour} style={{ left: `${at}%`, top: `${rows * 1.7}em` }}>
            {words}
          </span>
        ))}
      </div>
      <figcaption className="legend">
        <span>
          <i className={classes(styles.swatch, styles.paid)} /> paid
        </span>
        <span>
          <i className={classes(styles.swatch, styles.won)} /> won
        </span>
        <span>
          <i className={classes(styles.swatch, styles.bid)} /> in bids
        </span>
        <span>A post with a number is the close of that lot.</span>
      </figcaption>
      <MeterDayTable day={day} present={points.at(-1)} currency={currency} zone={zone} isOver={now >= day.toAt} />
    </figure>
  )
}
