'use client'

import { useEffect, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import type { ForecastFrame } from '#money/forecast/forecast.contract'
import type { Meter } from '#money/proceeds/proceeds.contract'
import styles from './forecast.module.css'
import { moverOf, plotForecast, roundly, sayChance, sayDoubts, sayForecast, sayTarget } from './forecast.rules'
import { ForecastTable } from './forecast-table'

/** A bid changes the forecast; it is asked for again at most this often. */
const EVERY = 2000

/** How it may end: the chance of the target, the range, and which lot moves it most. It follows the bids. */
export function ForecastSheet({ initial, meter: firstMeter }: { initial: ForecastFrame; meter: Meter }) {
  const found = useForecast(initial, firstMeter)
  const { currency, lots, chanceFrom, chanceTo, targetMinor } = found
  const plot = plotForecast(found)
  const mover = moverOf(lots)
  const doubts = sayDoubts(found)
  const said = sayTarget(found)
  const target = roundly(targetMinor, currency)
  if (lots.length === 0) {
    return (
      <section className="sheet stack close" aria-labelledby="forecast">
        <h2 id="forecast">How it may end</h2>
        <p>{sayForecast(found)}</p>
      </section>
    )
  }
  return (
    <section className="sheet stack" aria-labelledby="forecast">
      <h2 id="forecast">How it may end</h2>
      <p className={styles.words}>
        <b className={styles.chance}>{said.head}</b> {said.rest} {sayForecast(found)}
      </p>
      <figure className={styles.figure}>
        <div className={styles.plot} role="img" aria-label={`${sayForecast(found)} The target is ${target}.`}>
          <div className={styles.band} style={{ left: `${plot.band.from}%`, width: `${plot.band.to - plot.band.from}%` }} />
          <span className={styles.outside} style={{ clipPath: polygon(plot.whole) }} />
          <span className={styles.within} style={{ clipPath: polygon(plot.within) }} />
          <svg className={styles.edge} viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
            <path d={`M${plot.whole.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join('L')}`} />
          </svg>
          {plot.targetAt !== null && (
            <span className={styles.target} style={{ left: `${plot.targetAt}%` }}>
              <b className={plot.targetAt > 60 ? styles.leftOf : undefined}>target {target}</b>
            </span>
          )}
          {plot.targetSide && (
            <span className={plot.targetSide === 'right' ? styles.farRight : styles.farLeft}>
              {plot.targetSide === 'right' ? `target ${target} →` : `← target ${target}`}
            </span>
          )}
          <span className={styles.expected} style={{ left: `${plot.expectedAt}%` }} />
        </div>
        <div className={styles.scale} aria-hidden="true">
          {plot.ticks.map(({ words, at }) => (
            <span key={words} style={{ left: `${at}%` }}>
              {words}
            </span>
          ))}
        </div>
        <figcaption className="legend">
          <span>
            <i className={styles.withinKey} /> 80 % of it lies here
          </span>
          <span>
            <i className={styles.outsideKey} /> the rest
          </span>
          <span>
            <i className={styles.expectedKey} /> expected
          </span>
        </figcaption>
      </figure>
      {mover && (
        <p>
          Lot {mover.number}, {mover.title}, matters most: {Math.round(mover.part * 100)} % of the doubt. At its least the chance is{' '}
          {sayChance(mover.chanceAtLeast)}, at its most {sayChance(mover.chanceAtMost)}.
        </p>
      )}
      {doubts.length > 0 && (
        <div className={styles.doubts}>
          <p>
            <b>Guessing</b>
          </p>
          <ul>
            {doubts.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
      <ForecastTable found={found} />
      <p className="small quiet">
        Worked out from the standing bids and the maker’s estimates, each lot independently, on a grid: amounts are right to{' '}
        {roundly(found.errorMinor + 50, currency)}, and the chance lies between {(chanceFrom * 100).toFixed(1)} and{' '}
        {(chanceTo * 100).toFixed(1)} %. That covers the arithmetic; nobody knows whether the estimates are right. Reserves are left out,
        because they could be worked out from the chance.
      </p>
    </section>
  )
}

/** The newest forecast: asked for again when the meter or a lot has changed, and never twice at once. */
function useForecast(initial: ForecastFrame, firstMeter: Meter): ForecastFrame {
  const meter = useLive<Meter>('meter', firstMeter)
  const lots = useLive<object>('lots', NO_LOTS)
  const [found, setFound] = useState(initial)
  const asked = useRef({ meter, lots, at: 0 })
  useEffect(() => {
    if (asked.current.meter === meter && asked.current.lots === lots) return
    const wait = Math.max(0, asked.current.at + EVERY - Date.now())
    const timer = setTimeout(async () => {
      asked.current = { meter, lots, at: Date.now() }
      try {
        const next = await api.forecast.now.query()
        if (next) setFound(next)
      } catch {
        // The house is away for a moment: the next change asks again, and what is shown stays.
        asked.current = { ...asked.current, meter: firstMeter }
      }
    }, wait)
    return () => clearTimeout(timer)
  }, [meter, lots, firstMeter])
  useEffect(() => setFound(initial), [initial])
  return found
}

const NO_LOTS = {}

const polygon = (outline: readonly [number, number][]): string =>
  `polygon(${outline.map(([x, y]) => `${x.toFixed(2)}% ${y.toFixed(2)}%`).join(', ')})`
