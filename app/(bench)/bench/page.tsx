import type { Metadata } from 'next'
import Link from 'next/link'
import type { CSSProperties } from 'react'
import { api } from '#app/_trpc/server.ts'
import { Checklist } from '#app/_ui/checklist.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import type { Reached } from '#app/_ui/strip.rules.ts'
import { Strip } from '#app/_ui/strip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { STATIONS } from '#bench/units/progress.rules'
import type { RackUnit } from '#floor/rack/rack.contract'
import { type Currency, showMoney } from '#kernel/money'
import { StaffOnly } from './_refused/staff-only'
import styles from './rack.module.css'

export const metadata: Metadata = { title: 'The rack' }

const STAFF = ['maker', 'volunteer', 'treasurer', 'host'] as const

/** Each unit is a wire run to the terminal it has reached; its tag hangs there, and beside it stands what comes next. */
export default async function RackPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={STAFF} person={person} />
  const isMaker = person.role === 'maker'
  const [runs, steps, sheets] = await Promise.all([
    caller.bringup.rack(),
    isMaker ? caller.bringup.firstSteps() : null,
    isMaker ? caller.sheets.list() : [],
  ])
  const begun = sheets.filter(({ state }) => state === 'open')
  const zone = campaign?.zone ?? 'UTC'
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>The rack</h1>
        {runs.length > 0 && person.role !== 'host' && <Link href="/bench/hours">Hours and parts, machine by machine</Link>}
      </div>
      {steps && (
        <section className="stack close" aria-labelledby="first-lot">
          <h2 id="first-lot">To your first lot</h2>
          <p className="quiet">You can leave at any step: what is next stands here when you come back.</p>
          <Checklist items={steps} says={{ done: 'Done', open: 'Next', 'not-yet': 'Later' }} />
          <p>
            Are your donors, parts or earlier machines in a spreadsheet? <Link href="/bench/sheets">Bring it here</Link>
            {begun.length > 0 && (
              <>
                {' '}
                or go on with{' '}
                {begun.map(({ id, name }, index) => (
                  <span key={id}>
                    {index > 0 && ', '}
                    <Link href={`/bench/sheets/${id}`}>{name || 'the sheet that was begun'}</Link>
                  </span>
                ))}
              </>
            )}
            .
          </p>
        </section>
      )}
      {runs.length === 0 && !steps && (
        <EmptyState
          title="No unit has been started yet."
          action={
            <Link className="button" href="/bench/designs">
              Go to the designs
            </Link>
          }
        >
          Import a design, then make a run of it: its units appear here.
        </EmptyState>
      )}
      {runs.length > 0 && (
        <div className={styles.rack}>
          <div className={styles.heads} aria-hidden="true">
            {STATIONS.map((station) => (
              <span key={station}>{station}</span>
            ))}
          </div>
          {runs.map((run) => (
            <section key={run.runId} className={styles.run} aria-label={run.design}>
              <h2 className={styles.design}>
                <Link href={`/bench/designs/${run.designId}`}>{run.design}</Link>{' '}
                <Link href={`/bench/runs/${run.prefix}`} className="small" aria-label={`${run.design}: the run at a glance`}>
                  at a glance{run.shared.length > 0 && `, ${run.shared.join(', ')} failed twice`}
                </Link>
              </h2>
              <ul className="plain-list">
                {run.units.map((unit) => (
                  <Unit key={unit.tag} unit={unit} zone={zone} />
                ))}
              </ul>
            </section>
          ))}
        </div>
      )}
    </div>
  )
}

function Unit({ unit, zone }: { unit: RackUnit; zone: string }) {
  const { tag, reached, next, lot } = unit
  return (
    <li className={styles.unit} style={{ '--reached': reached } as CSSProperties}>
      <div className={styles.wire} aria-hidden="true">
        {STATIONS.slice(0, Math.max(0, reached - 1)).map((station, index) => (
          <span key={station} className={styles.screw} style={{ '--at': index + 1 } as CSSProperties} />
        ))}
      </div>
      <div className={styles.hang}>
        <Tag size="small" code={tag} href={`/bench/units/${tag}`} tone={next.tone} />
        <p className={styles.next} data-tone={next.tone}>
          {next.words}
          {lot?.standingMinor != null && <>, {showMoney(lot.standingMinor, lot.currency as Currency, { short: true })}</>}
          {next.tone === 'copper' && lot?.closesAt != null && (
            <>
              , closes <When at={lot.closesAt} zone={zone} show="time" brief />
            </>
          )}
        </p>
      </div>
      <div className={styles.strip}>
        <Strip reached={reached as Reached} name={tag} />
      </div>
    </li>
  )
}
