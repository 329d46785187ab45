'use client'

import Link from 'next/link'
import { useState } from 'react'
import { type ReadingRow, Readings } from '#app/_ui/readings.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import styles from './record-sheet.module.css'
import { TimelineList } from './timeline'

/** The record of the machine: all that happened, the latest first, or what stands, check by check. */
export function RecordSheet({ view, zone }: { view: BringupView; zone: string }) {
  const [shown, setShown] = useState<'timeline' | 'table'>('timeline')
  const button = (which: typeof shown, words: string) => (
    <button type="button" className={styles.tab} aria-pressed={shown === which} onClick={() => setShown(which)}>
      {words}
    </button>
  )
  return (
    <section className="sheet stack" aria-labelledby="timeline">
      <div className="row apart">
        <h2 id="timeline">What happened</h2>
        <fieldset className={styles.tabs}>
          <legend className="visually-hidden">Shown as</legend>
          {button('timeline', 'Timeline')}
          {button('table', 'Table')}
        </fieldset>
      </div>
      <p className="small">
        <Link href={`/bench/units/${view.tag}/hours`}>Its hours at the bench, and what its parts cost</Link>
      </p>
      {shown === 'timeline' ? (
        <TimelineList tag={view.tag} newest={view.timeline} happened={view.happened} zone={zone} />
      ) : (
        <Table view={view} />
      )}
    </section>
  )
}

function Table({ view }: { view: BringupView }) {
  const rows = view.checks.flatMap((check): ReadingRow[] => {
    const { reading } = check
    if (!reading) return []
    const { value, doubt, entry, verdict, by, instrument } = reading
    const { nominal, lower, upper, unit } = check
    return [
      {
        check: check.key,
        name: check.title,
        note: [by, instrument, check.releasedBy && `released by ${check.releasedBy}`].filter(Boolean).join(', '),
        shown: entry,
        verdict,
        ...(check.kind === 'measure' ? { gauge: { value, nominal, lower, upper, doubt, unit } } : {}),
      },
    ]
  })
  if (rows.length === 0) return <p className="quiet">There are no current readings yet.</p>
  return <Readings caption={`Readings of ${view.tag} that are current`} rows={rows} />
}
