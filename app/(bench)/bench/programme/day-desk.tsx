'use client'

import { useCallback, useEffect, useState } from 'react'
import type { Instant } from '../../../../server/kernel/instant'
import type { PlanningView } from '../../../../server/planning/wish.contract'
import type { DayPlan } from '../../../../server/programme/programme.contract'
import { api } from '../../../_trpc/client'
import { DayLine } from './day-line'
import { PlanSheet } from './plan-sheet'
import { WishSheet } from './wish-sheet'

export interface DayDeskProps {
  day: DayPlan
  now: Instant
  planning: PlanningView
}

const LOOK_EVERY_MS = 400

/** The line of the day, what is wished for it, and the plan that is made of both. */
export function DayDesk({ day, now, planning }: DayDeskProps) {
  const [seen, setSeen] = useState(planning)
  // The page is rendered anew after every change; what it brings is the newest.
  useEffect(() => setSeen(planning), [planning])
  const isRunning = seen.running?.state === 'searching' || seen.running?.state === 'pricing'
  const look = useCallback(async () => {
    const newest = await api.planning.present.query().catch(() => null)
    if (newest) setSeen(newest)
  }, [])
  useEffect(() => {
    if (!isRunning) return
    const timer = setInterval(() => void look(), LOOK_EVERY_MS)
    return () => clearInterval(timer)
  }, [isRunning, look])
  const shifted = seen.planned.filter(({ at, wasAt }) => at !== wasAt)
  return (
    <div className="stack">
      <DayLine day={day} now={now} proposed={shifted} />
      <PlanSheet planning={seen} look={() => void look()} />
      <WishSheet planning={seen} opensAt={day.opensAt} look={() => void look()} />
    </div>
  )
}
