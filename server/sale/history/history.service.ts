import type { Db } from '#db/open'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { getLotRow } from '../lots/lots.service'
import { getShownRow } from '../lots/shown-lot.service'
import { type History, type Leaf, leafShape } from './history.contract'
import * as store from './history.store'

/** The last history that was read of each lot, by the database it stands in. */
const kept = new WeakMap<Db, Map<string, History>>()

/**
 * The same as `readHistory`, read once for each head however many ask: hundreds of entries and their shapes take longer
 * than all else of a page. For readers: nobody may change what they are given.
 */
export function historyForReaders(sight: Sight, number: number): History {
  const ofHouse = kept.get(sight.db) ?? new Map<string, History>()
  kept.set(sight.db, ofHouse)
  const { id, state } = getShownRow(sight, number)
  const before = ofHouse.get(id)
  // A head names every entry before it, so none of the same size that a failed command undid is taken for it.
  if (before && before.state === state && before.heads.at(-1)?.checkpoint === store.lastCheckpoint(sight.db, id)) return before
  const history = readHistory(sight, number)
  ofHouse.set(id, history)
  return history
}

/** Whoever asks next is given what the database holds then, though its heads are the same. */
export const forgetHistories = (db: Db): void => void kept.delete(db)

/** The whole public history of a lot that was opened here; refuses any other as if it were not there. */
export function readHistory(sight: Sight, number: number): History {
  const row = getLotRow(sight, number)
  if (!row.terms || row.ledgerSize === 0) throw new Refusal('not-found', `Lot ${number} has no history yet.`)
  return {
    version: 1,
    lot: row.number,
    title: row.terms.sale.title,
    unit: row.unitTag,
    state: row.state,
    currency: row.terms.currency,
    origin: row.terms.origin,
    leaves: readLeaves(sight, row.id),
    heads: store.listHeads(sight.db, row.id).map(({ size, checkpoint }) => ({ size, checkpoint })),
    links: { lot: `/lots/${number}`, page: `/lots/${number}/history`, keys: '/.well-known/jwks.json' },
  }
}

/** The entries of a lot's history, in order. */
export const readLeaves = (sight: Sight, lotId: string): Leaf[] =>
  store.listLeaves(sight.db, lotId).map(({ body, position }) => {
    try {
      return leafShape.parse(JSON.parse(body))
    } catch {
      throw new Refusal(
        'conflict',
        `Entry ${position + 1} of this history is damaged, so it does not hold and cannot be shown. Ask whoever runs the sale.`,
      )
    }
  })

/** How the standing bid of every lot moved, and when it ended: null from its end on. */
export const listStandingBids = (sight: Sight) =>
  store.listStandingBids(sight.db).map(({ lotId, at, kind, standingMinor }) => {
    const isEnd = kind === 'closed' || kind === 'withdrawn'
    return { lotId, at: Date.parse(at), isEnd, standingMinor: isEnd ? null : standingMinor }
  })

/** The newest signed head of a lot as a note of its own; null while there is none. */
export const lastCheckpoint = (sight: Sight, lotId: string): string | null => store.lastCheckpoint(sight.db, lotId) ?? null
