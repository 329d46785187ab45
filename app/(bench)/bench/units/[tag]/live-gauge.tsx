import { Gauge } from '#app/_ui/gauge.tsx'
import type { judgeReading } from '#bench/units/reading.rules'
import { RISK_WORDS, VERDICT_WORDS } from '#bench/units/verdict.rules'
import type { CheckView } from '#bench/units/view.contract'
import styles from './reading.module.css'

/** What is typed, as the house would judge it; null while it cannot be read. */
export type Shown = Extract<ReturnType<typeof judgeReading>, { ok: true }>['judged'] | null

/** The gauge of the check at hand: it follows what is typed, and before that shows the reading that stands. */
export function LiveGauge({ check, shown }: { check: CheckView; shown: Shown }) {
  return (
    <Gauge
      name={check.title}
      unit={check.unit}
      size="wide"
      value={shown?.value ?? check.reading?.value ?? check.nominal ?? check.upper ?? check.lower ?? 0}
      nominal={check.nominal}
      lower={check.lower}
      upper={check.upper}
      doubt={shown ? shown.expandedUncertainty : (check.reading?.doubt ?? null)}
      verdict={shown?.verdict ?? check.reading?.verdict ?? null}
    />
  )
}

/** The limits in figures, what a good unit read, what stands, and how likely the typed reading conforms. */
export function LimitsLine({ check, shown }: { check: CheckView; shown: Shown }) {
  return (
    <p className={styles.limits}>
      {check.kind === 'yesno' || check.kind === 'match' ? '' : 'limits '}
      {check.limits}
      {check.reference && ` · ${check.reference.isCertified ? 'good unit ' : ''}${check.reference.tag} read ${check.reference.entry}`}
      {check.reading && ` · stands at ${check.reading.entry}`}
      {shown?.conformity != null && ` · conforms with ${percent(shown.conformity)}`}
      {shown?.conformity != null && (
        <>
          <br />
          {VERDICT_WORDS[shown.verdict]}. {RISK_WORDS[shown.verdict]}
        </>
      )}
    </p>
  )
}

/** Never rounded to certainty, either way: 99.97 % is not 100 %. */
export const percent = (probability: number) =>
  probability > 0.999 ? 'over 99.9 %' : probability < 0.001 ? 'under 0.1 %' : `${(probability * 100).toFixed(1)} %`
