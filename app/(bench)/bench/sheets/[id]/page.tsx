import type { Metadata } from 'next'
import { orRefused } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { COLUMNS } from '#gifts/sheets/columns.rules'
import { SHEET_WORDS } from '../sheet-words'
import { DropSheet } from './drop-sheet'
import { SheetDesk } from './sheet-desk'
import { StoredSheet } from './stored-sheet'

export const metadata: Metadata = { title: 'A spreadsheet' }

export default async function SheetPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const page = await caller.sheets.read({ id }).catch(orRefused)
  const trail = [{ label: 'From spreadsheets', href: '/bench/sheets' }]
  if ('refused' in page)
    return (
      <div className="page stack">
        <Crumbs trail={trail} />
        <h1>A spreadsheet</h1>
        <Notice tone="bad">{page.refused}</Notice>
        <DropSheet id={id} />
      </div>
    )
  const { title, seen } = SHEET_WORDS[page.what]
  return (
    <div className="page stack wide">
      <Crumbs trail={trail} />
      <h1>{title}</h1>
      {page.read ? (
        <SheetDesk first={{ ...page, read: page.read }} wanted={COLUMNS[page.what].map(({ name }) => name)} />
      ) : (
        <StoredSheet page={page} seen={seen} zone={campaign?.zone ?? 'UTC'} />
      )}
    </div>
  )
}
