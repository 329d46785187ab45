import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { StepIn } from './step-in'

export const metadata: Metadata = { title: 'Step into the rehearsal', robots: { index: false } }

/** The door of a rehearsal; a house that is none has no such page. */
export default async function RehearsalDoorPage() {
  if (!(await (await api()).rehearsal.here())) notFound()
  return (
    <div className="page narrow stack">
      <h1>Step into the rehearsal</h1>
      <p>
        This is a copy of the campaign for playing through the day. Bid, hold, let things go wrong: none of it is real, and it is deleted
        afterwards.
      </p>
      <StepIn />
    </div>
  )
}
