import type { z } from 'zod'
import { civilOf } from '#kernel/civil'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { presentDay } from '#people/campaign/stream-days.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { outstandingPromises } from '#stock/donors/gift.service'
import { listRoster } from '../units/roster.service'
import type { expectedIn, Importance, importanceIn, readyIn } from './build.contract'
import { dayAfter } from './build-plan.rules'
import { expectedRows, findReady, importanceRows, saveExpected, saveImportance, saveReady } from './plan.store'

// What the staff have said about the building to come: which units matter, by when, and when gifts are expected.

/** Days at the bench that a unit takes once its parts are there, where nobody has said. Common practice. */
const BENCH_DAYS = 3

export interface Readiness {
  readyOn: string
  benchDays: number
  lastUsefulDay: string
}

/** By when lots must be ready: the day that was set, else the day on which the stream opens next; and the last day on which a part is of use for that. */
export function readiness(sight: Sight): Readiness {
  const campaign = findCampaign(sight)
  const saved = findReady(sight.db)
  const opens = civilOf(campaign ? presentDay(sight).opensAt : sight.now, campaign?.zone ?? 'UTC').slice(0, 10)
  const readyOn = saved?.readyOn ?? opens
  const benchDays = saved?.benchDays ?? BENCH_DAYS
  return { readyOn, benchDays, lastUsefulDay: dayAfter(readyOn, -benchDays) }
}

/** How much each unit matters; one that is not among them matters as the others. */
export const importances = (sight: Sight): Map<string, Importance> =>
  new Map(importanceRows(sight.db).map(({ unitId, importance }) => [unitId, importance]))

/** The day on which each promised gift is expected, where anybody said. */
export const expectedDays = (sight: Sight): Map<string, string> =>
  new Map(expectedRows(sight.db).map(({ giftId, expectedOn }) => [giftId, expectedOn]))

export function setImportance(turn: Turn, _actor: Actor, { unitIds, importance }: z.output<typeof importanceIn>): void {
  const known = new Map(listRoster(turn).map(({ id, tag }) => [id, tag]))
  for (const unitId of new Set(unitIds)) {
    const tag = known.get(unitId)
    if (tag === undefined) throw Refusal.at('unitIds', 'There is no such unit. Reload the page and choose again.', 'not-found')
    saveImportance(turn.db, unitId, importance)
    turn.record({ kind: 'unit.importance-set', subject: `unit:${tag}`, body: { unitId, importance } })
  }
}

export function setReady(turn: Turn, _actor: Actor, { readyOn, benchDays }: z.output<typeof readyIn>): void {
  saveReady(turn.db, { readyOn: readyOn || null, benchDays })
  turn.record({ kind: 'build.ready-day-set', subject: 'build', body: { readyOn, benchDays } })
}

/** On which day a promised gift is expected; an empty day takes it back. */
export function expectGift(turn: Turn, _actor: Actor, { giftId, expectedOn }: z.output<typeof expectedIn>): void {
  const line = outstandingPromises(turn).find((one) => one.giftId === giftId)
  if (!line) throw Refusal.at('expectedOn', 'This gift has arrived, or is no longer promised. Reload the page.', 'conflict')
  saveExpected(turn.db, giftId, expectedOn || null)
  turn.record({ kind: 'gift.expected', subject: `gift:${giftId}`, body: { giftId, donorId: line.donorId, expectedOn } })
}
