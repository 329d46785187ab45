import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listLots, listPublicLots } from '../lots/lots.service'
import type { LastChanges } from './calendar'
import { type DayChanges, ENDS, type RemovedItem } from './changes.contract'
import { changesOf, removedOf } from './changes.rules'
import { readDayFacts } from './changes.store'

const MOST = 200

/** What changed last about each lot of the programme; a hold of all clocks is one of each lot that has not ended and closes here. */
export function lastChanges(sight: Sight): LastChanges {
  const stopsWithAll = listLots(sight).flatMap(({ number, soldWhere }) => (soldWhere === 'elsewhere' ? [] : [number]))
  const last = new Map<number, { at: Instant; stops: number }>()
  const ended = new Set<number>()
  for (const { lot, kind, at } of changesOf(readDayFacts(sight.db), (number) => `Lot ${number}`)) {
    const isStop = kind === 'held' || kind === 'resumed'
    const about = lot !== null ? [lot] : isStop ? stopsWithAll.filter((number) => !ended.has(number)) : []
    for (const number of about) last.set(number, { at, stops: (last.get(number)?.stops ?? 0) + (isStop ? 1 : 0) })
    if (lot !== null && ENDS.includes(kind)) ended.add(lot)
  }
  return last
}

/** What changed in the announced programme and what came of each lot, the newest first. */
export function readChanges(sight: Sight): DayChanges {
  const { name, zone, currency } = getCampaign(sight)
  const titles = new Map(listPublicLots(sight).map(({ number, title }) => [number, `Lot ${number}: ${title}`]))
  const all = changesOf(readDayFacts(sight.db), (lot) => titles.get(lot) ?? null)
  return { name, zone, currency, changes: all.reverse().slice(0, MOST) }
}

export const readRemoved = (sight: Sight): RemovedItem[] => removedOf(readDayFacts(sight.db))
