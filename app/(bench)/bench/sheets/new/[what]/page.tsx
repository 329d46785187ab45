import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { SHEET_WHATS } from '#gifts/sheets/sheets.contract'
import { SHEET_WORDS } from '../../sheet-words'
import { BeginForm } from './begin-form'

export const metadata: Metadata = { title: 'Bring a spreadsheet' }

export default async function NewSheetPage({ params }: { params: Promise<{ what: string }> }) {
  const said = (await params).what
  const what = SHEET_WHATS.find((one) => one === said) ?? notFound()
  const { person } = await (await api()).people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const { title, about, columns } = SHEET_WORDS[what]
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: 'From spreadsheets', href: '/bench/sheets' }]} />
      <h1>{title}</h1>
      <p>{about} The sheet is kept here while you answer what it leaves open: you can leave at any step and go on later.</p>
      <BeginForm what={what} columns={columns} />
      <details className="sheet">
        <summary>What kinds of file are read</summary>
        <ul>
          <li>CSV and other tables as text, whatever separates their columns, in UTF-8, UTF-16 or Windows-1252.</li>
          <li>Workbooks that end in .xlsx or .ods. Of a formula its last result is taken; colours, pictures and notes are not read.</li>
          <li>Up to 5,000 rows, 100 columns and 1 MB. What is larger comes in parts.</li>
          <li>
            Anything else, such as .xls, .numbers or a file with a password: in the spreadsheet choose “Save as”, “Export” or “Download”,
            then CSV. Or mark the rows with their heading, copy them, and paste them above.
          </li>
        </ul>
      </details>
    </div>
  )
}
