import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import * as store from './told.store'

/** One gift in one sold lot. */
export interface GiftInLot {
  giftId: string
  lotId: string
}

const keyOf = ({ giftId, lotId }: GiftInLot): string => `${giftId} ${lotId}`

/** Of these gifts in these lots, those whose donor was not told yet. */
export function notToldYet<Pair extends GiftInLot>(sight: Sight, pairs: readonly Pair[]): Pair[] {
  const told = new Set(store.toldRows(sight.db, [...new Set(pairs.map(({ lotId }) => lotId))]).map(keyOf))
  return pairs.filter((pair) => !told.has(keyOf(pair)))
}

export function noteTold(turn: Turn, actor: Actor, pairs: readonly GiftInLot[]): void {
  for (const { giftId, lotId } of pairs) store.insertTold(turn.db, { giftId, lotId, at: turn.now, byPersonId: actor.personId })
}
