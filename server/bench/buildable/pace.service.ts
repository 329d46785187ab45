import { civilDayOf } from '#kernel/civil'
import type { Instant } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { pastPace, weekOf } from '../spent/hours.service'
import type { Importance } from './build.contract'
import { type PaceRow, paceOf } from './pace.rules'
import { readiness } from './plan.service'

/** When machines could be ready; no rows where nobody has said how many hours a week has. */
export interface PacePage {
  weeklyMinutes: number | null
  said: { at: Instant; by: string } | null
  rows: PaceRow[]
}

/** Machines with all their parts first, then those that can be completed from what is in hand, the important ones before the others. */
export function readPace(
  sight: Sight,
  { full, buildable }: { full: ReadonlySet<string>; buildable: readonly { unitId: string; importance: Importance }[] },
): PacePage {
  const { weeklyMinutes, at, by } = weekOf(sight)
  if (weeklyMinutes === null) return { weeklyMinutes, said: null, rows: [] }
  const { units, took } = pastPace(sight)
  const byId = new Map(units.map((unit) => [unit.unitId, unit]))
  const inTurn = [...buildable].sort((a, b) => a.importance - b.importance).map(({ unitId }) => unitId)
  const waiting = [...units.flatMap(({ unitId }) => (full.has(unitId) ? unitId : [])), ...inTurn].flatMap((id) => byId.get(id) ?? [])
  const today = civilDayOf(sight.now, findCampaign(sight)?.zone ?? 'UTC').day
  const rows = paceOf(
    waiting.filter(({ isFinished }) => !isFinished),
    { took, weeklyMinutes, benchDays: readiness(sight).benchDays, today },
  )
  return { weeklyMinutes, said: at === null || by === null ? null : { at, by }, rows }
}
