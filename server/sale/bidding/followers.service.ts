import { findPaddle } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import * as store from '../bids/bids.store'
import { listRemindersOfLot } from '../fairness/fairness.store'
import { getLotRow } from '../lots/lots.service'

/** Where those live who bid on a lot or want to be reminded of it: a country for each, null where none was said, and never a name. */
export function followersOf(sight: Sight, lot: number): (string | null)[] {
  const { id } = getLotRow(sight, lot)
  const bidders = store.listAliases(sight.db, id).flatMap(({ personId, voidedAt }) => (voidedAt === null ? personId : []))
  const reminded = listRemindersOfLot(sight.db, id).map(({ personId }) => personId)
  return [...new Set([...bidders, ...reminded])].map((personId) => findPaddle(sight, personId)?.country ?? null)
}
