import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { BoardPicture } from '#app/_ui/board-picture.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { BlocksPicture } from './blocks-picture'
import { ChecksSection } from './checks-section'
import { MoveUnits } from './move-units'
import { PartsSection } from './parts-section'
import { PlacementForm } from './placement-form'
import { RunsSection } from './runs-section'
import { SaveSheets } from './save-sheets'
import { TellingForm } from './telling-form'

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
  const placed = await caller.designs.placement({ id })
  const telling = person.role === 'maker' ? await caller.designs.telling({ id }) : null
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
          <p>Anything recorded under another revision stays as it is. What revision {design.revision} means for each unit:</p>
          <MoveUnits designId={id} revision={design.revision} units={others} isMaker={person.role === 'maker'} />
        </section>
      )}
      <RunsSection designId={id} runs={own} isMaker={person.role === 'maker'} />
      <section className="sheet stack">
        <h2>What feeds what</h2>
        <BlocksPicture blocks={design.blocks} feeds={design.feeds} />
      </section>
      {(placed.length > 0 || person.role === 'maker') && (
        <section className="sheet stack" aria-labelledby="board">
          <h2 id="board">Where parts sit</h2>
          {placed.length > 0 ? (
            <BoardPicture placed={placed} points={placed.flatMap(({ designator }) => (/^TP\d/.test(designator) ? [designator] : []))} />
          ) : (
            <p className="quiet">
              Read the placement file of the board, and the page of a fault shows where the suspected parts and the next test point are.
            </p>
          )}
          <p>
            <Link href={`/bench/designs/${id}/board`}>Photographs of the board, with parts and test points pinned</Link>
          </p>
          {person.role === 'maker' && (
            <details>
              <summary>{placed.length > 0 ? 'Read another placement file' : 'Read a placement file'}</summary>
              <PlacementForm designId={id} />
            </details>
          )}
        </section>
      )}
      <PartsSection design={design} />
      {telling && telling.choices.length > 0 && (
        <details className="sheet">
          <summary>Readings on the page of a lot: {telling.isUsual ? 'one from each block' : telling.chosen.join(', ')}</summary>
          <TellingForm designId={id} telling={telling} />
        </details>
      )}
      <ChecksSection checks={design.checks} />
    </div>
  )
}
