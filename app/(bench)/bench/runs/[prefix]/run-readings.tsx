import { figureWords } from '#bench/designs/check-words.rules'
import type { GlanceCheck, GlanceView } from '#bench/faults/glance.contract'
import { ruleWords } from '#bench/faults/spread.rules'
import { VERDICT_WORDS } from '#bench/units/verdict.rules'
import { DotPlot } from './dot-plot'
import styles from './run.module.css'

/** Each measured check over the run: where every unit lies, mean and spread, and the figures behind the picture. */
export function Readings({ view }: { view: GlanceView }) {
  const measured = view.checks.filter(({ kind, readings }) => kind === 'measure' && readings.length > 0)
  const checks = measured.filter(({ readings }) => readings.length > 1)
  const single = measured.filter(({ readings }) => readings.length === 1).map(({ key }) => key)
  return (
    <section className="sheet stack" aria-labelledby="readings">
      <h2 id="readings">Each reading over the run</h2>
      <p className="small quiet">
        The shaded band is what the limits permit; the upright line is the mean, the bar below it one standard deviation to each side. A
        ring marks who stands apart.
      </p>
      <div className={styles.plots}>
        {checks.map((check) => (
          <One key={check.key} check={check} />
        ))}
      </div>
      {single.length > 0 && <p className="small quiet">Of one unit only so far: {single.join(', ')}.</p>}
    </section>
  )
}

function One({ check }: { check: GlanceCheck }) {
  const { spread } = check
  if (spread === null) return null
  const figure = (value: number) => figureWords(value, { unit: check.unit, decimals: check.decimals + 1 })
  return (
    <article id={check.key} className={styles.reading} aria-label={`${check.key} ${check.title}`}>
      <h3>
        <span className="code">{check.key}</span> {check.title}
      </h3>
      <DotPlot check={check} />
      <p className="small">
        mean <b className="num">{figure(spread.mean)}</b>, standard deviation{' '}
        <b className="num">{spread.deviation === null ? '' : spreadFigure(spread.deviation, check.unit)}</b>, from {figure(spread.least)} to{' '}
        {figure(spread.most)}, {spread.count} units; limits {check.limits}
      </p>
      <details>
        <summary>The figures</summary>
        <table>
          <caption className="visually-hidden">Readings of {check.key}</caption>
          <thead>
            <tr>
              <th scope="col">Unit</th>
              <th scope="col" className="num">
                Reading
              </th>
              <th scope="col" className="num">
                Doubt
              </th>
              <th scope="col">Verdict</th>
            </tr>
          </thead>
          <tbody>
            {check.readings.map(({ tag, entry, doubt, verdict, isApart }) => (
              <tr key={tag}>
                <th scope="row" className="code">
                  {tag}
                </th>
                <td className="num">{entry}</td>
                <td className="num">{doubt === null ? '' : `±${spreadFigure(doubt, '')}`}</td>
                <td>
                  {VERDICT_WORDS[verdict]}
                  {isApart && ', stands apart'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="small quiet">{ruleWords(spread.rule, spread.count)}</p>
      </details>
    </article>
  )
}

/** Two figures that count: a spread is no better known than that. */
function spreadFigure(value: number, unit: string): string {
  const text = value === 0 ? '0' : String(Number(value.toPrecision(2)))
  return unit === '' ? text : `${text} ${unit}`
}
