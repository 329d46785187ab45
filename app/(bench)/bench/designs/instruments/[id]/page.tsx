import type { Metadata } from 'next'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { InstrumentForm } from '#app/(bench)/bench/designs/instrument-form.tsx'
import { ReadingsTable } from './readings-table'
import { RestsOnIt } from './rests-on-it'
import { WhatItDecides } from './what-it-decides'

export const metadata: Metadata = { title: 'Instrument' }

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
          <p>Every reading taken with it now will say so permanently. Have it checked, then write the new dates below.</p>
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
      <RestsOnIt units={sheet.units} />
      <WhatItDecides instrument={sheet} designs={designs} />
      <ReadingsTable readings={sheet.readings} zone={zone} />
      {person.role === 'maker' && (
        <section className="sheet stack" aria-labelledby="change">
          <h2 id="change">It was checked, or its accuracy has changed</h2>
          <p className="small">Readings keep the accuracy and the mark they were taken with.</p>
          <InstrumentForm instrument={{ ...sheet, checkedOn: day(sheet.checkedAt), dueOn: day(sheet.dueAt) }} />
        </section>
      )}
    </div>
  )
}
