import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { civilParts } from '#sale/programme/civil-time.rules'
import { StaffOnly } from '../../_refused/staff-only'
import { MoveForm } from './move-form'
import { RemoveButton } from './remove-button'

export const metadata: Metadata = { title: 'Move it' }

const ROLES = ['maker', 'host', 'volunteer', 'treasurer'] as const

export default async function ItemPage({ params }: { params: Promise<{ item: string }> }) {
  const { item: id } = await params
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const day = await caller.programme.day({ item: id })
  const item = day?.items.find((each) => each.id === id)
  if (!day || !item) notFound()
  return (
    <div className="page narrow stack">
      <Crumbs trail={[{ href: '/bench/programme', label: 'The day' }]} />
      <h1>{item.title}</h1>
      {item.isOver ? (
        <p>This is over. Its time stays in the record.</p>
      ) : (
        <>
          <p className="quiet">
            {item.isAnnounced ? 'It is announced, so it may move later but not earlier.' : 'It is not announced yet and may move anywhere.'}
          </p>
          <section className="sheet act">
            <MoveForm item={item} zone={day.zone} civil={civilParts(item.startsAt, day.zone)} />
          </section>
          {!(item.kind === 'closing' && item.isAnnounced) && <RemoveButton item={item} />}
          {item.lot !== null && (
            <p>
              <Link prefetch={false} href={`/bench/lots/${item.lot}`}>
                Lot {item.lot} at the bench
              </Link>
            </p>
          )}
        </>
      )}
    </div>
  )
}
