import type { Metadata } from 'next'
import Link from 'next/link'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { sayMinutes } from '#bench/spent/minutes.rules'
import type { MachineSpent } from '#bench/spent/spent.contract'
import { CorrectForm } from './correct-form'
import { DaysPicture } from './days-picture'
import { PartsTable } from './parts-table'
import { ShowForm } from './show-form'

interface Props {
  params: Promise<{ tag: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${decodeURIComponent((await params).tag)}: hours and parts` }
}

const ROLES = ['maker', 'volunteer', 'treasurer'] as const

/** What went into one machine: who worked on it when, and its parts at what they would cost to buy again. */
export default async function MachineHoursPage({ params }: Props) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const spent = await caller.spent.unit({ tag: decodeURIComponent((await params).tag) }).catch(orNotFound)
  const { tag } = spent
  return (
    <div className="page stack wide">
      <Crumbs
        trail={[
          { label: 'Rack', href: '/bench' },
          { label: tag, href: `/bench/units/${tag}` },
        ]}
      />
      <h1>{tag}: hours and parts</h1>
      <p>
        {spent.designName}. <Link href="/bench/hours">All machines side by side</Link>
      </p>
      <section className="sheet stack" aria-labelledby="hours">
        <h2 id="hours">{sayMinutes(spent.minutes)} at the bench</h2>
        {spent.stretches.length === 0 ? (
          <p className="quiet">Nothing was noted on it yet.</p>
        ) : (
          <DaysPicture stretches={spent.stretches} people={spent.people} zone={spent.zone} />
        )}
        <p className="small quiet">
          Taken from readings, fittings, reworks and what else was noted; a break longer than {sayMinutes(spent.week.pauseMinutes)} is not
          counted. <Link href="/bench/hours#week">How hours are counted</Link>
        </p>
        <Corrections spent={spent} />
        {person.role !== 'treasurer' && <CorrectForm tag={tag} />}
      </section>
      <PartsTable spent={spent} />
      {person.role === 'maker' && <ShowForm tag={tag} shows={spent.shows} />}
    </div>
  )
}

function Corrections({ spent: { corrections, measuredMinutes, zone } }: { spent: MachineSpent }) {
  if (corrections.length === 0) return null
  return (
    <ul className="small">
      <li>{sayMinutes(measuredMinutes)} as noted</li>
      {corrections.map(({ at, by, minutes, reason }) => (
        <li key={`${at} ${minutes} ${reason}`}>
          {minutes > 0 ? `${sayMinutes(minutes)} added` : `${sayMinutes(-minutes)} taken away`} by {by}, <When at={at} zone={zone} brief />:{' '}
          {reason}
        </li>
      ))}
    </ul>
  )
}
