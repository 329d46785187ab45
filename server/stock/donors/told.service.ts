import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import * as store from './told.store'

/** One gift in one sold lot. */
export interface GiftInLot {
  giftId: string
  lotId: string
}

/** The same with what the lot comes to now, and what the hammer fell at. */
export interface GiftAndPrice extends GiftInLot {
  comesMinor: number
  fellMinor: number
}

const keyOf = ({ giftId, lotId }: GiftInLot): string => `${giftId} ${lotId}`

/** Of these gifts in these lots, those whose donor was not told yet. */
export function notToldYet<Pair extends GiftInLot>(sight: Sight, pairs: readonly Pair[]): Pair[] {
  const told = new Set(store.toldRows(sight.db, [...new Set(pairs.map(({ lotId }) => lotId))]).map(keyOf))
  return pairs.filter((pair) => !told.has(keyOf(pair)))
}

/** Of these gifts in these lots, those whose donor was told of another price than the one that stands, and of which. */
export function toldOtherwise<Pair extends GiftAndPrice>(
  sight: Sight,
  pairs: readonly Pair[],
): (Pair & { toldMinor: number; toldAt: number })[] {
  const told = new Map(store.toldRows(sight.db, [...new Set(pairs.map(({ lotId }) => lotId))]).map((row) => [keyOf(row), row]))
  return pairs.flatMap((pair) => {
    const row = told.get(keyOf(pair))
    const toldMinor = row && (row.toldMinor ?? pair.fellMinor)
    return toldMinor === undefined || toldMinor === pair.comesMinor ? [] : [{ ...pair, toldMinor, toldAt: row?.at ?? 0 }]
  })
}

/** What was told last is what a donor knows. */
export function noteTold(turn: Turn, actor: Actor, pairs: readonly GiftAndPrice[]): void {
  for (const { giftId, lotId, comesMinor } of pairs)
    store.keepTold(turn.db, { giftId, lotId, at: turn.now, byPersonId: actor.personId, toldMinor: comesMinor })
}
