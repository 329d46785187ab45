import type { WholeDesign } from '#bench/designs/designs.service'
import { instrumentDoubt, likelyResolution } from '#bench/units/doubt.rules'
import type { InstrumentSheet } from '#bench/units/instruments.service'
import { cannotDecide } from '#bench/units/verdict.rules'

/** Of how many checks it can tell a pass from a failure, and those for which its doubt is too wide. */
export function WhatItDecides({
  instrument,
  designs,
}: {
  instrument: Pick<InstrumentSheet, 'name' | 'accuracy'>
  designs: readonly WholeDesign[]
}) {
  const decides = designs.flatMap(({ id, name, revision, checks }) =>
    checks.flatMap((check) => {
      if (check.kind !== 'measure') return []
      const near = check.nominal ?? check.upper ?? check.lower ?? 0
      const doubt = instrumentDoubt({ value: near, resolution: likelyResolution(check) }, check, instrument)
      return typeof doubt === 'string' ? [] : [{ id, name, revision, check, doubt, cannot: cannotDecide(check, doubt.expanded) }]
    }),
  )
  const blunt = decides.filter(({ cannot }) => cannot)
  return (
    <section className="sheet stack" aria-labelledby="decides">
      <h2 id="decides">What it can decide</h2>
      <p>
        It states an accuracy for {decides.length} checks. Digits of an instrument that states neither counts nor ranges decide nothing.{' '}
        {blunt.length === 0
          ? 'Its doubt is narrower than the limits of every check.'
          : 'For these its doubt is as wide as the limits, so it cannot decide them:'}
      </p>
      {blunt.length > 0 && (
        <ul>
          {blunt.map(({ id, name, revision, check, doubt }) => (
            <li key={`${id} ${check.key}`}>
              {name}, revision {revision}: <span className="code">{check.key}</span> {check.title} (±
              {Number(doubt.expanded.toPrecision(2))} {check.unit})
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
