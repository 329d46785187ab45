import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { Scanner } from './scanner'

export const metadata: Metadata = { title: 'Scan a label' }

export default async function ScanPage() {
  const { person } = await (await api()).people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  return (
    <div className="page narrow stack">
      <Crumbs trail={[{ label: 'Parts', href: '/bench/parts' }]} />
      <h1>Scan a label</h1>
      <Scanner />
    </div>
  )
}
