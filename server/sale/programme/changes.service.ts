import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listPublicLots } from '../lots/lots.service'
import type { DayChanges, RemovedItem } from './changes.contract'
import { changesOf, removedOf } from './changes.rules'
import { readDayFacts } from './changes.store'

const MOST = 200

/** When something changed last about each lot of the programme. */
export const lastChanges = (sight: Sight): Map<number, Instant> =>
  new Map(changesOf(readDayFacts(sight.db), (lot) => `Lot ${lot}`).flatMap(({ lot, at }) => (lot === null ? [] : [[lot, at]])))

/** What changed in the announced programme and what came of each lot, the newest first. */
export function readChanges(sight: Sight): DayChanges {
  const { name, zone, currency } = getCampaign(sight)
  const titles = new Map(listPublicLots(sight).map(({ number, title }) => [number, `Lot ${number}: ${title}`]))
  const all = changesOf(readDayFacts(sight.db), (lot) => titles.get(lot) ?? null)
  return { name, zone, currency, changes: all.reverse().slice(0, MOST) }
}

export const readRemoved = (sight: Sight): RemovedItem[] => removedOf(readDayFacts(sight.db))
