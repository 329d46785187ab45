'use client'

import { Chip } from '#app/_ui/chip.tsx'
import { Gauge } from '#app/_ui/gauge.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { VerdictChip } from '#app/_ui/verdict-chip.tsx'
import { shownWithUnit } from '#bench/certificates/sentences.rules'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import styles from './checklist.module.css'
import type { Chosen } from './use-at-hand'

type Choose = ((chosen: Chosen) => void) | null

/** The whole list by stage: what stands, what was lost and why, what may be taken and what waits for what. */
export function Checklist({ view, choose }: { view: BringupView; choose: Choose }) {
  const stages = [...new Set(view.checks.map(({ stage }) => stage))]
  const done = view.checks.filter(({ permission }) => permission.may === 'done').length
  return (
    <section className="sheet stack" aria-labelledby="checklist">
      <h2 id="checklist">
        Checklist <span className="small quiet">{`${done} of ${view.checks.length} done`}</span>
      </h2>
      {stages.map((stage) => (
        <Stage
          key={stage}
          stage={stage}
          checks={view.checks.filter((check) => check.stage === stage)}
          evidence={view.evidence}
          choose={choose}
        />
      ))}
    </section>
  )
}

/** A stage that is done folds up: the eye goes to what is left. */
function Stage({
  stage,
  checks,
  evidence,
  choose,
}: {
  stage: string
  checks: CheckView[]
  evidence: BringupView['evidence']
  choose: Choose
}) {
  const done = checks.filter(({ permission }) => permission.may === 'done').length
  return (
    <details open={done < checks.length || undefined}>
      <summary className={styles.stage}>
        {stage} <span className={styles.count}>{done === checks.length ? 'all done' : `${done} of ${checks.length} done`}</span>
      </summary>
      <ul className="plain-list">
        {checks.map((check) => (
          <Line key={check.key} check={check} pieces={evidence.filter((one) => one.check === check.key).length} choose={choose} />
        ))}
      </ul>
    </details>
  )
}

const entryOf = ({ kind, unit, lower, upper }: CheckView, { entry, doubt }: NonNullable<CheckView['reading']>): string =>
  kind === 'measure' ? shownWithUnit({ shown: entry, unit, doubt, lower, upper }) : entry

function Line({ check, pieces, choose }: { check: CheckView; pieces: number; choose: Choose }) {
  const { reading, permission, lost, key } = check
  const may = choose !== null && permission.may !== 'wait'
  return (
    <li className={styles.line} data-may={permission.may}>
      <span className="code">{key}</span>
      <div className={styles.what}>
        {may ? <TextButton press={() => choose({ key, corrects: false })}>{check.title}</TextButton> : check.title}
        {check.isHold && <span className={styles.hold}> hold point{check.releasedBy ? `, released by ${check.releasedBy}` : ''}</span>}
        {permission.may === 'wait' && <span className="under">{permission.why}</span>}
        {permission.may === 'release' && <span className="under">{permission.why}</span>}
        {lost !== null && <span className="under">Lost: {lost}.</span>}
        {pieces > 0 && <span className="under">{pieces === 1 ? '1 piece of evidence' : `${pieces} pieces of evidence`}</span>}
        {reading && (
          <span className="under">
            {reading.by}
            {reading.instrument && `, ${reading.instrument}`}
            {reading.soak?.isStated && !reading.entry.includes('stated') && ', hours stated, not observed here'}
            {reading.isWhileSearching && ', taken while searching: no part of the certificate'}
          </span>
        )}
      </div>
      <div className={styles.result}>
        {reading ? (
          <>
            <span className="num">{entryOf(check, reading)}</span>
            {check.kind === 'measure' && (
              <Gauge
                name={check.title}
                unit={check.unit}
                shown={reading.entry}
                value={reading.value}
                nominal={check.nominal}
                lower={check.lower}
                upper={check.upper}
                doubt={reading.doubt}
                verdict={reading.verdict}
              />
            )}
            <VerdictChip verdict={reading.verdict} />
            {choose !== null && (
              <TextButton label={`Correct the reading of ${key}`} press={() => choose({ key, corrects: true })}>
                Correct
              </TextButton>
            )}
          </>
        ) : (
          <>
            <span className="small quiet">{check.limits}</span>
            {lost !== null && <Chip tone="doubt">Lost</Chip>}
          </>
        )}
      </div>
    </li>
  )
}
