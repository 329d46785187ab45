import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_shell/staff-only.tsx'
import { limitWords } from '#bench/designs/check-words.rules'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { BlocksPicture } from './blocks-picture'
import { MoveUnits } from './move-units'
import { RunForm } from './run-form'
import { SaveSheets } from './save-sheets'

export const metadata: Metadata = { title: 'Design' }

export default async function DesignPage({ params }: { params: Promise<{ id: string }> }) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { id } = await params
  const [designs, runs, others] = await Promise.all([
    caller.designs.list(),
    caller.bringup.runs(),
    caller.bringup.otherRevisions({ designId: id }).catch(orNotFound),
  ])
  if (!designs.some((one) => one.id === id)) notFound()
  const design = await caller.designs.get({ id })
  const own = runs.filter(({ designId }) => designId === id)
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'Designs', href: '/bench/designs' }]} />
      <h1>
        {design.name} <span className="quiet">revision {design.revision}</span>
      </h1>
      <p>
        Judged by <b>{design.decisionRule.replaceAll('-', ' ')}</b>. {design.cautions}
      </p>
      {design.quirks !== '' && <p className="quiet">Known quirks: {design.quirks}</p>}
      <div className="row">
        {person.role === 'maker' && (
          <Link className="button" href={`/bench/designs/${id}/revise`}>
            Write the next revision
          </Link>
        )}
        <SaveSheets designId={id} />
      </div>
      {others.length > 0 && (
        <section className="sheet stack" aria-labelledby="others">
          <h2 id="others">Units at other revisions</h2>
          <p>What was recorded under another revision stays as it is. What revision {design.revision} means for each unit:</p>
          <MoveUnits designId={id} revision={design.revision} units={others} isMaker={person.role === 'maker'} />
        </section>
      )}
      <section className="sheet stack">
        <h2>Runs</h2>
        {own.length === 0 ? (
          <p className="quiet">No run has been made to this design yet.</p>
        ) : (
          <p>
            {own.map(({ id: runId, tagPrefix }) => (
              <Link key={runId} href="/bench" className="code">
                {tagPrefix}{' '}
              </Link>
            ))}
          </p>
        )}
        {person.role === 'maker' && <RunForm designId={id} run={own[0]?.id ?? null} />}
      </section>
      <section className="sheet stack">
        <h2>What feeds what</h2>
        <BlocksPicture blocks={design.blocks} feeds={design.feeds} />
      </section>
      <section className="sheet stack">
        <p>
          <Link href={`/bench/designs/${id}/parts`}>Substitutes, a new list, and the list as CSV</Link>
        </p>
        <table className="cards">
          <caption>Parts list</caption>
          <thead>
            <tr>
              <th scope="col">Positions</th>
              <th scope="col" className="num">
                Count
              </th>
              <th scope="col">Part</th>
              <th scope="col">Block</th>
              <th scope="col">Fitted</th>
            </tr>
          </thead>
          <tbody>
            {design.lines.map((line) => (
              <tr key={line.id}>
                <th scope="row" className="code">
                  {collapseDesignators(line.designators)}
                </th>
                <td className="num" data-label="Count">
                  {line.quantity}
                </td>
                <td data-label="Part">
                  {line.part.words}
                  {line.part.programmed && ', programmed'}
                  {line.notes !== '' && <span className="small quiet"> {line.notes}</span>}
                </td>
                <td data-label="Block">{design.positions.find(({ lineId }) => lineId === line.id)?.blocks.join(', ')}</td>
                <td data-label="Fitted">{line.fittedAfter === null ? 'from the start' : `after ${line.fittedAfter}`}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section className="sheet">
        <table className="cards">
          <caption>Checklist</caption>
          <thead>
            <tr>
              <th scope="col">Check</th>
              <th scope="col">Stage</th>
              <th scope="col">What</th>
              <th scope="col">Limits</th>
              <th scope="col">After</th>
            </tr>
          </thead>
          <tbody>
            {design.checks.map((check) => (
              <tr key={check.key}>
                <th scope="row" className="code">
                  {check.key}
                </th>
                <td data-label="Stage">{check.stage}</td>
                <td data-label="What">
                  {check.title}
                  {check.isHold && <b> (hold point)</b>}
                </td>
                <td data-label="Limits">{limitWords(check)}</td>
                <td data-label="After">{check.after.join(', ') || '·'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </div>
  )
}
