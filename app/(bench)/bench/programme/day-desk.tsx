'use client'

import { api } from '#app/_trpc/client.ts'
import { useProgress } from '#app/_trpc/use-progress.ts'
import type { Instant } from '#kernel/instant'
import type { PlanningView } from '#sale/planning/wish.contract'
import type { DayPlan } from '#sale/programme/programme.contract'
import { DayLine } from './day-line'
import { PlanSheet } from './plan-sheet'
import { WishSheet } from './wish-sheet'

export interface DayDeskProps {
  day: DayPlan
  now: Instant
  planning: PlanningView
}

/** The line of the day, what is wished for it, and the plan that is made of both. */
export function DayDesk({ day, now, planning }: DayDeskProps) {
  const { seen, look } = useProgress(
    planning,
    () => api.planning.present.query({ day: day.number }),
    ({ running }) => running?.state === 'searching' || running?.state === 'pricing',
  )
  const shifted = seen.planned.filter(({ at, wasAt }) => at !== wasAt)
  return (
    <div className="stack">
      <DayLine day={day} now={now} proposed={shifted} />
      <PlanSheet day={day.number} planning={seen} look={look} />
      <WishSheet planning={seen} opensAt={day.opensAt} look={look} />
    </div>
  )
}
