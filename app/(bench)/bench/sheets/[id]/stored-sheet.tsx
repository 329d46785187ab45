'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import type { SheetPage } from '#gifts/sheets/sheets.service'

const LOOKED_AT_EVERY_MS = 2_000

export interface StoredSheetProps {
  page: Pick<SheetPage, 'name' | 'state' | 'items' | 'done' | 'summary' | 'storedAt'>
  seen: { href: string; label: string }
  zone: string
}

/** What was stored of a sheet; while it is being stored, how far that has come. */
export function StoredSheet({ page: { name, state, items, done, summary, storedAt }, seen, zone }: StoredSheetProps) {
  const router = useRouter()
  useEffect(() => {
    if (state === 'stored') return
    const timer = setInterval(() => router.refresh(), LOOKED_AT_EVERY_MS)
    return () => clearInterval(timer)
  }, [state, router])
  return (
    <section className="sheet stack">
      {storedAt === null ? (
        <Notice title="Being stored" live="status">
          {done} of {items} are stored. It goes on by itself, also if you leave this page.
        </Notice>
      ) : (
        <Notice tone="ok" title="All of it is stored" live="status">
          {name}, <When at={storedAt} zone={zone} />
        </Notice>
      )}
      <ul>
        {summary.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <p>
        <Link href={seen.href}>{seen.label}</Link>
      </p>
    </section>
  )
}
