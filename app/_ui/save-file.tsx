'use client'

import type { ReactNode } from 'react'
import type { SavedFile } from '#kernel/csv'
import { useCommand } from '../_trpc/use-command'

/** A button that asks the house for a file and lets the browser keep it: tables for the staff, which no public address gives. */
export function SaveFile({ ask, children }: { ask: () => Promise<SavedFile>; children: ReactNode }) {
  const { run, pending, refusal } = useCommand<undefined, SavedFile>(ask)
  const save = async () => {
    const file = await run(undefined)
    if (!file) return
    const address = URL.createObjectURL(new Blob([file.text], { type: file.type }))
    const link = document.createElement('a')
    link.href = address
    link.download = file.fileName
    link.click()
    // Revoked a little later: some browsers read the file only after the click has been dealt with.
    setTimeout(() => URL.revokeObjectURL(address), 10_000)
  }
  return (
    <>
      <button type="button" className="button-line" onClick={save}>
        {children}
      </button>
      <span role="status" className="small quiet">
        {refusal ? refusal.words : pending ? 'Writing it…' : ''}
      </span>
    </>
  )
}
