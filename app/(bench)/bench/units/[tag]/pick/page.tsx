import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { PrintButton } from '#app/(air)/air/run-sheet/print-button.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { readTag } from '#bench/units/tag.rules'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { PickRows } from './pick-rows'

export const metadata: Metadata = { title: 'Pick list' }

/** What a machine still needs, from place to place of the shelf: on a phone to tick, or on paper. */
export default async function PickPage({ params }: { params: Promise<{ tag: string }> }) {
  const tag = readTag(decodeURIComponent((await params).tag))
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  if (tag === null) notFound()
  const list = await caller.bringup.pick({ tag }).catch(orNotFound)
  const codes = list.places.flatMap(({ rows }) => rows.map(({ code }) => code))
  const isBare = codes.length === 0 && list.lacking.length === 0
  return (
    <div className="page stack">
      <Crumbs
        trail={[
          { label: 'Bench', href: '/bench' },
          { label: list.tag, href: `/bench/units/${list.tag}` },
        ]}
      />
      <h1>Pick list of {list.tag}</h1>
      <p className="quiet">
        {list.design.name}, revision {list.design.revision}
      </p>
      <PrintButton />
      {isBare && <EmptyState title="Nothing is to be picked now: what may be fitted already is." />}
      {list.places.map(({ place, rows }) => (
        <section key={place} className="sheet stack" aria-label={place || 'No place'}>
          <h2>{place || 'Without a place'}</h2>
          {place === '' && (
            <p className="small quiet no-print">Say where these lie on the page of their part, and the list goes from place to place.</p>
          )}
          <PickRows tag={list.tag} rows={rows} />
        </section>
      ))}
      {list.lacking.length > 0 && (
        <section className="sheet stack" aria-labelledby="lacking">
          <h2 id="lacking">Not in hand</h2>
          <ul className="plain-list">
            {list.lacking.map(({ part, designators }) => (
              <li key={part}>
                <span className="code several">{collapseDesignators(designators)}</span> {designators.length} × {part}
              </li>
            ))}
          </ul>
        </section>
      )}
      {list.later.length > 0 && (
        <p className="small">
          Later: {list.later.map(({ designator, after }) => `${designator} after ${after}`).join(', ')}. Leave them on the shelf.
        </p>
      )}
      {list.leftEmpty.length > 0 && (
        <p className="small">
          Stays empty: <span className="code several">{collapseDesignators(list.leftEmpty)}</span>
        </p>
      )}
      <p className="row no-print">
        {codes.length > 0 && <a href={`/bench/labels/${[...new Set(codes)].join(',')}.pdf?of=bag`}>Tags for these bags (PDF, A4)</a>}
        <Link href={`/bench/units/${list.tag}`}>Back to {list.tag}, to fit them</Link>
      </p>
    </div>
  )
}
