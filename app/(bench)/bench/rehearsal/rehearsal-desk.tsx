'use client'

import type { RehearsalView } from '#air/rehearsal/rehearsal.contract'
import { api } from '#app/_trpc/client.ts'
import { useProgress } from '#app/_trpc/use-progress.ts'
import { OnStage } from './on-stage'
import { Report } from './report'
import { StartSheet } from './start-sheet'

// Each look asks a second process as well.
const LOOK_EVERY_MS = 1000

const isMoving = (view: RehearsalView): boolean =>
  view.is === 'rehearsal' || view.state === 'opening' || view.state === 'open' || view.state === 'over'

/** Follows how the rehearsal goes, from the house or from within. */
export function RehearsalDesk({ found }: { found: RehearsalView }) {
  const { seen: view, look } = useProgress(found, () => api.rehearsal.view.query(), isMoving, LOOK_EVERY_MS)
  return (
    <>
      {view.is === 'house' ? <StartSheet view={view} look={look} /> : <OnStage view={view} look={look} />}
      {view.report && <Report report={view.report} zone={view.zone} />}
    </>
  )
}
