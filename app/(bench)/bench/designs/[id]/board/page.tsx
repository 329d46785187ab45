import type { Metadata } from 'next'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { BoardPhoto } from '#app/_ui/board-photo.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { AddBoard } from './add-board'
import { PinDesk } from './pin-desk'

export const metadata: Metadata = { title: 'Photographs of the board' }

/** Parts and test points pinned on photographs of the board, for whoever looks for a fault. */
export default async function BoardPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { design, photographs, marks } = await caller.faults.board({ designId: id }).catch(orNotFound)
  const works = person.role === 'maker' || person.role === 'volunteer'
  return (
    <div className="page stack wide">
      <Crumbs
        trail={[
          { label: 'Designs', href: '/bench/designs' },
          { label: design.name, href: `/bench/designs/${design.id}` },
        ]}
      />
      <h1>Photographs of the board</h1>
      <p>
        What is pinned here stands on the page of a fault: the suspected parts, and where to probe next. It holds for every revision of{' '}
        {design.name}.
      </p>
      {photographs.length === 0 && (
        <EmptyState title="There is no photograph yet.">
          <p>Take one from straight above, with the board filling the picture.</p>
        </EmptyState>
      )}
      {photographs.map((photograph) =>
        works ? (
          <PinDesk key={photograph.sha} designId={design.id} photograph={photograph} marks={marks} />
        ) : (
          <BoardPhoto key={photograph.sha} photograph={photograph} />
        ),
      )}
      {works && <AddBoard designId={design.id} />}
    </div>
  )
}
