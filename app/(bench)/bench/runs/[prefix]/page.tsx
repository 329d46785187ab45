import type { Metadata } from 'next'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { Apart } from './apart'
import { CommonCauses } from './common-causes'
import { Found } from './found'
import { GlanceTable } from './glance-table'
import { Readings } from './run-readings'

interface Props {
  params: Promise<{ prefix: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return {
    title: `Run ${decodeURIComponent((await params).prefix)
      .toUpperCase()
      .slice(0, 8)} at a glance`,
  }
}

/** Every unit of a run beside every other: what passed, what failed and what those have in common, who stands apart. */
export default async function RunPage({ params }: Props) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer', 'treasurer', 'host']} person={person} />
  const prefix = decodeURIComponent((await params).prefix)
    .toUpperCase()
    .slice(0, 8)
  const view = await caller.faults.run({ prefix }).catch(orNotFound)
  const isEmpty = view.checks.every(({ cells }) => cells.every(({ state }) => state === 'none'))
  return (
    <div className="page stack">
      <Crumbs
        trail={[
          { label: 'The rack', href: '/bench' },
          { label: view.design.name, href: `/bench/designs/${view.design.id}` },
        ]}
      />
      <h1>
        The run at a glance <span className="code quiet">{view.prefix}</span>
      </h1>
      {isEmpty ? (
        <EmptyState title="No check of this run has been taken yet.">
          Pick a unit from the rack: its readings appear here beside the others'.
        </EmptyState>
      ) : (
        <>
          <CommonCauses common={view.common} />
          <Apart checks={view.checks} />
          <GlanceTable view={view} />
          <Readings view={view} />
          <Found closed={view.closed} />
        </>
      )}
    </div>
  )
}
