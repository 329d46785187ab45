'use client'

import { lazy, Suspense, useEffect, useState } from 'react'
import { askWith } from '#app/_trpc/confirm-first.ts'

// Fetched when it is first needed: no page waits for it, and most readers never see it.
const ConfirmDialog = lazy(() => import('./confirm-dialog'))

/** Stands at the foot of every page and opens the question, in place, when the house asks who is there. */
export function ConfirmHost() {
  const [settle, setSettle] = useState<((isSure: boolean) => void) | null>(null)
  useEffect(() => askWith(() => new Promise((resolve) => setSettle(() => resolve))), [])
  if (!settle) return null
  const done = (isSure: boolean) => {
    settle(isSure)
    setSettle(null)
  }
  return (
    <Suspense fallback={null}>
      <ConfirmDialog onDone={done} />
    </Suspense>
  )
}
