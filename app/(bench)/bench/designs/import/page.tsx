import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { ImportForm } from './import-form'

export const metadata: Metadata = { title: 'Import a design' }

export default async function ImportPage() {
  const { person } = await (await api()).people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'Designs', href: '/bench/designs' }]} />
      <h1>Import a design</h1>
      <p>
        Three lists, as CSV files or pasted from a spreadsheet. A parts list is taken as a layout program saves it. You see how everything
        is read first, and mend rows where they are shown; nothing is stored while any line is wrong, and importing the same lists again
        changes nothing.
      </p>
      <ImportForm />
    </div>
  )
}
