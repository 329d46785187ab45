'use client'

import { useCallback, useEffect, useState } from 'react'
import type { RehearsalView } from '../../../../server/rehearsal/rehearsal.contract'
import { api } from '../../../_trpc/client'
import { OnStage } from './on-stage'
import { Report } from './report'
import { StartSheet } from './start-sheet'

const LOOK_EVERY_MS = 1000

/** Follows how the rehearsal goes, from the house or from within. */
export function RehearsalDesk({ found }: { found: RehearsalView }) {
  const [view, setView] = useState(found)
  const look = useCallback(async () => {
    const newest = await api.rehearsal.view.query().catch(() => null)
    if (newest) setView(newest)
  }, [])
  const isMoving = view.is === 'rehearsal' || view.state === 'opening' || view.state === 'open' || view.state === 'over'
  useEffect(() => {
    if (!isMoving) return
    const timer = setInterval(() => void look(), LOOK_EVERY_MS)
    return () => clearInterval(timer)
  }, [isMoving, look])
  return (
    <>
      {view.is === 'house' ? <StartSheet view={view} look={() => void look()} /> : <OnStage view={view} look={() => void look()} />}
      {view.report && <Report report={view.report} zone={view.zone} />}
    </>
  )
}
