'use client'

import { useDeferredValue, useEffect, useMemo, useState } from 'react'
import type { Lists } from '#bench/designs/across.rules'
import { type DraftReading, readDraft } from '#bench/designs/draft.rules'
import type { Cells } from '#bench/designs/written.rules'

export interface Draft {
  checklist: Cells[]
  feeds: Cells[]
}

export interface DraftState {
  draft: Draft
  /** As an import would read it: what is wrong, by row and column. */
  reading: DraftReading
  /** It was begun earlier in this tab and is here again. */
  isKept: boolean
  change(list: keyof Draft, rows: Cells[]): void
  beginAnew(): void
  forget(): void
}

/** The rows as they are being written, kept for this tab, so that a reload loses nothing. */
export function useDraft(designId: string, initial: Draft, parts: Lists['parts']): DraftState {
  const place = `revise:${designId}`
  const [draft, setDraft] = useState(initial)
  const [isKept, setKept] = useState(false)
  useEffect(() => {
    const kept = sessionStorage.getItem(place)
    if (kept === null) return
    setDraft(JSON.parse(kept) as Draft)
    setKept(true)
  }, [place])
  const deferred = useDeferredValue(draft)
  const reading = useMemo(() => readDraft(deferred, parts), [deferred, parts])
  const forget = () => sessionStorage.removeItem(place)
  return {
    draft,
    reading,
    isKept,
    change: (list, rows) => {
      const next = { ...draft, [list]: rows }
      setDraft(next)
      sessionStorage.setItem(place, JSON.stringify(next))
    },
    beginAnew: () => {
      forget()
      setKept(false)
      setDraft(initial)
    },
    forget,
  }
}

/** What is wrong in one row, by column. */
export const flawsAt = ({ flaws }: DraftReading, list: 'checklist' | 'feeds', index: number): Record<string, string> =>
  Object.fromEntries(
    flaws
      .filter((flaw) => flaw.list === list && flaw.line === index + 1)
      .reverse()
      .map(({ column, words }) => [column, words]),
  )
