import Link from 'next/link'
import { figureWords } from '#bench/designs/check-words.rules'
import type { GlanceCheck } from '#bench/faults/glance.contract'
import { ruleWords } from '#bench/faults/spread.rules'

/** Units that stand apart from the rest of the run, whether they pass or not. */
export function Apart({ checks }: { checks: readonly GlanceCheck[] }) {
  const found = checks.flatMap((check) => check.readings.filter(({ isApart }) => isApart).map((reading) => ({ check, reading })))
  if (found.length === 0) return null
  return (
    <section className="sheet stack" aria-labelledby="apart">
      <h2 id="apart">Which ones differ</h2>
      <ul>
        {found.map(({ check, reading }) => (
          <li key={`${check.key} ${reading.tag}`}>
            <Link href={`/bench/units/${reading.tag}`} className="code">
              {reading.tag}
            </Link>{' '}
            in <a href={`#${check.key}`}>{check.key}</a> {check.title}: <b className="num">{reading.entry}</b>, where the middle of the run
            is{' '}
            {check.spread && (
              <span className="num">{figureWords(check.spread.median, { unit: check.unit, decimals: check.decimals + 1 })}</span>
            )}
            . {reading.verdict.startsWith('pass') ? 'It passes all the same.' : 'It fails.'}{' '}
            <span className="small quiet">{check.spread && ruleWords(check.spread.rule, check.spread.count)}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
