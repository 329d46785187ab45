import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import * as store from '../bids/bids.store'
import { keptOf, loadSale, saleOf } from '../bids/lot-state.service'
import { getLotRow } from '../lots/lots.service'
import { type History, type Leaf, leafShape } from './history.contract'
import { factOf } from './play-again.rules'
import { type LotState, replay } from './replay.rules'

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

const readLeaves = (sight: Sight, lotId: string): Leaf[] =>
  store.listLeaves(sight.db, lotId).map(({ body }) => leafShape.parse(JSON.parse(body)))

/** How the standing bid of every lot moved, and when it ended: null from its end on. */
export const listStandings = (sight: Sight) =>
  store.listStandings(sight.db).map(({ lotId, at, kind, standingMinor }) => {
    const isEnd = kind === 'closed' || kind === 'withdrawn'
    return { lotId, at: Date.parse(at), isEnd, standingMinor: isEnd ? null : standingMinor }
  })

/** True when what is kept of a lot for speed is what its whole history leads to. */
export function isKeptRight(sight: Sight, number: number): boolean {
  const row = getLotRow(sight, number)
  if (row.ledgerSize === 0) return true
  const { state } = saleOf(row)
  const maxima = new Map(store.listBidsOfLot(sight.db, row.id).map(({ sequence, maximumMinor }) => [sequence, maximumMinor]))
  const facts = readLeaves(sight, row.id).flatMap((leaf) => factOf(leaf, ({ sequence }) => maxima.get(sequence) ?? 0) ?? [])
  const again = replay(state.terms, facts)
  const said = (one: LotState) => JSON.stringify({ ...keptOf(one), phase: one.phase, heldSince: one.heldSince })
  return said(again) === said(state) && said(again) === said(loadSale(sight, number).state)
}
