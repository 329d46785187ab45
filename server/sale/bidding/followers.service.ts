import { findPaddle } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { listReminded } from '../letters/reminders.service'
import { getLotRow } from '../lots/lots.service'

/** Where those live who bid on a lot or want to be reminded of it: a country for each, null where none was said, and never a name. */
export function followersOf(sight: Sight, lot: number): (string | null)[] {
  const { id } = getLotRow(sight, lot)
  const bidders = listAliases(sight, id).flatMap(({ personId, voidedAt }) => (voidedAt === null ? personId : []))
  const reminded = listReminded(sight, id)
  return [...new Set([...bidders, ...reminded])].map((personId) => findPaddle(sight, personId)?.country ?? null)
}
