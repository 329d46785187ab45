import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { cellsOf, feedCells } from '#bench/designs/written.rules'
import { Editor } from './editor'

export const metadata: Metadata = { title: 'Next revision' }

export default async function RevisePage({ params }: { params: Promise<{ id: string }> }) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const { id } = await params
  if (!(await caller.designs.list()).some((one) => one.id === id)) notFound()
  const design = await caller.designs.get({ id })
  const parts = design.lines.map((row) => ({
    line: row.line,
    blocks: design.positions.find(({ lineId }) => lineId === row.id)?.blocks ?? [],
    fittedAfter: row.fittedAfter,
  }))
  const { name, revision, decisionRule, quirks, cautions } = design
  return (
    <div className="page stack">
      <Crumbs
        trail={[
          { label: 'Designs', href: '/bench/designs' },
          { label: `${name}, revision ${revision}`, href: `/bench/designs/${id}` },
        ]}
      />
      <h1>
        {name} <span className="quiet">the revision after {revision}</span>
      </h1>
      <p>
        Revision {revision} stays as it is, and so does everything that was recorded under it. Units only go over to the new one when you
        move them, and you see first what that means for their readings.
      </p>
      <Editor
        from={{ id, revision, decisionRule, quirks, cautions }}
        initial={{ checklist: design.checks.map(cellsOf), feeds: feedCells(design.blocks, design.feeds) }}
        parts={parts}
      />
    </div>
  )
}
