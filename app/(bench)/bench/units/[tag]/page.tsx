import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { readTag } from '#bench/units/tag.rules'
import { UnitBench } from './unit-bench'

interface Props {
  params: Promise<{ tag: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: readTag(decodeURIComponent((await params).tag)) ?? 'Unit' }
}

export default async function UnitPage({ params }: Props) {
  const tag = readTag(decodeURIComponent((await params).tag))
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  if (tag === null) notFound()
  const works = person.role === 'maker' || person.role === 'volunteer'
  const [view, instruments, choices] = await Promise.all([
    caller.bringup.unit({ tag }).catch(orNotFound),
    caller.bringup.instruments(),
    works ? caller.bringup.choices({ tag }).catch(orNotFound) : [],
  ])
  return (
    <UnitBench
      initial={view}
      instruments={instruments}
      choices={choices}
      person={{ name: person.name, isMaker: person.role === 'maker', works }}
      zone={campaign?.zone ?? 'UTC'}
    />
  )
}
