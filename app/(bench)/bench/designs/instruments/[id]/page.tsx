import type { Metadata } from 'next'
import Link from 'next/link'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { VerdictChip } from '#app/_ui/verdict-chip.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '#app/(bench)/bench/_shell/staff-only.tsx'
import { InstrumentForm } from '#app/(bench)/bench/designs/instrument-form.tsx'
import { doubtOf, likelyResolution } from '#bench/units/reading.rules'
import { cannotDecide } from '#bench/units/verdict.rules'

export const metadata: Metadata = { title: 'Instrument' }

const MOST = 100

/** What an instrument can decide, what was read with it, and what rests on that. */
export default async function InstrumentPage({ params }: { params: Promise<{ id: string }> }) {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const sheet = await caller.bringup.instrument({ id: (await params).id }).catch(orNotFound)
  const zone = campaign?.zone ?? 'UTC'
  const day = (at: number) => new Date(at).toISOString().slice(0, 10)
  const late = sheet.units.filter(({ overdue }) => overdue > 0)
  const designs = await Promise.all((await caller.designs.list()).map(({ id }) => caller.designs.get({ id })))
  const decides = designs.flatMap(({ id, name, revision, checks }) =>
    checks.flatMap((check) => {
      if (check.kind !== 'measure') return []
      const near = check.nominal ?? check.upper ?? check.lower ?? 0
      const doubt = doubtOf({ value: near, resolution: likelyResolution(check) }, check.unit, sheet)
      return typeof doubt === 'string' ? [] : [{ id, name, revision, check, doubt, cannot: cannotDecide(check, doubt.expanded) }]
    }),
  )
  const blunt = decides.filter(({ cannot }) => cannot)
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'Designs', href: '/bench/designs' }]} />
      <h1>{sheet.name}</h1>
      <p className="num">{sheet.accuracy}</p>
      <p>
        Last checked {sayWhen(sheet.checkedAt, 'UTC', 'day')}, due again {sayWhen(sheet.dueAt, 'UTC', 'day')}.
      </p>
      {sheet.isOverdue && (
        <Notice tone="bad" title="Past its date">
          <p>Every reading taken with it now says so for ever. Have it checked, then write the new dates below.</p>
        </Notice>
      )}
      {late.length > 0 && (
        <Notice tone="doubt" title="Readings taken past its date">
          <p>
            They stand in {late.map(({ tag, overdue }) => `${tag} (${overdue})`).join(', ')}. If the next check finds it off, these are the
            ones to take again.
          </p>
        </Notice>
      )}
      <section className="sheet stack" aria-labelledby="rests">
        <h2 id="rests">What rests on it</h2>
        {sheet.units.length === 0 ? (
          <p className="quiet">Nothing was read with it yet.</p>
        ) : (
          <ul>
            {sheet.units.map(({ tag, stands }) => (
              <li key={tag}>
                <Link href={`/bench/units/${tag}`} className="code">
                  {tag}
                </Link>
                : {stands} {stands === 1 ? 'reading stands' : 'readings stand'}
              </li>
            ))}
          </ul>
        )}
      </section>
      <section className="sheet stack" aria-labelledby="decides">
        <h2 id="decides">What it can decide</h2>
        <p>
          It states an accuracy for {decides.length} checks. Where it states no counts, a figure more than the limits have is assumed.{' '}
          {blunt.length === 0
            ? 'Its doubt is narrower than the limits of every one.'
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
      <section className="sheet">
        <table className="cards">
          <caption>
            {sheet.readings.length > MOST ? `The latest ${MOST} of ${sheet.readings.length} readings` : 'Readings taken with it'}
          </caption>
          <thead>
            <tr>
              <th scope="col">Unit</th>
              <th scope="col">Check</th>
              <th scope="col" className="num">
                Reading
              </th>
              <th scope="col" className="num">
                U (k = 2)
              </th>
              <th scope="col">Verdict</th>
              <th scope="col">Taken</th>
            </tr>
          </thead>
          <tbody>
            {sheet.readings.slice(0, MOST).map((row) => (
              <tr key={row.id}>
                <th scope="row">
                  <Link href={`/bench/units/${row.tag}`} className="code">
                    {row.tag}
                  </Link>
                </th>
                <td data-label="Check" className="code">
                  {row.checkKey}
                </td>
                <td data-label="Reading" className="num">
                  {row.entry}
                </td>
                <td data-label="U (k = 2)" className="num">
                  {row.expandedUncertainty === null ? '' : `±${Number(row.expandedUncertainty.toPrecision(2))} ${row.unit}`}
                </td>
                <td data-label="Verdict">
                  <VerdictChip verdict={row.verdict} />
                  {!row.stands && <span className="small quiet"> no longer current</span>}
                  {row.isOverdue && <span className="small"> past its date</span>}
                </td>
                <td data-label="Taken">
                  <When at={row.at} zone={zone} brief /> · {row.by}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {person.role === 'maker' && (
        <section className="sheet stack" aria-labelledby="change">
          <h2 id="change">It was checked, or its statement is another</h2>
          <p className="small">Readings keep the statement and the mark that they were taken with.</p>
          <InstrumentForm instrument={{ ...sheet, checkedOn: day(sheet.checkedAt), dueOn: day(sheet.dueAt) }} />
        </section>
      )}
    </div>
  )
}
