import type { Db } from '#db/open'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import type { LotPhase, LotState } from '../history/replay.rules'
import { findHead, getLotRow, type LotRow } from '../lots/lots.service'
import { type Maximum, priceOf } from '../price/price.rules'
import * as store from './bids.store'

/** A lot whose terms are fixed, as the rules see it. */
export interface Sale {
  row: LotRow
  state: LotState
}

/**
 * Sales between two bids, so that a bid does not read and build the whole lot again. The head of a history names all
 * that led to it: a sale is used only while the head in the database is the one that it was made at. Whatever was
 * undone since (a refusal's savepoint, a commit that failed, a copy restored) has another head, and is read anew.
 */
const between = new WeakMap<Db, Map<number, Sale>>()

export function keepBetween(sight: Sight, sale: Sale): void {
  const sales = between.get(sight.db) ?? new Map<number, Sale>()
  between.set(sight.db, sales)
  if (sale.state.phase === 'open') sales.set(sale.row.number, sale)
  else sales.delete(sale.row.number)
}

export function loadSale(sight: Sight, number: number): Sale {
  const kept = between.get(sight.db)?.get(number)
  if (kept && kept.row.headHash === findHead(sight, number)) return kept
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  if (row.soldWhere === 'elsewhere')
    throw new Refusal('conflict', `This lot is sold elsewhere: ${row.elsewhereUrl ?? 'the address follows'}.`)
  if (!row.terms) throw new Refusal('too-early', 'This lot is not open yet.')
  const sale = saleOf(row)
  keepBetween(sight, sale)
  return sale
}

export function saleOf(row: LotRow): Sale {
  invariant(row.terms, 'an open lot has terms')
  const { currency, openingMinor, reserveMinor, ladder } = row.terms
  const leader = maximumOf(row.leaderAlias, row.leaderMaximumMinor, row.leaderSequence)
  const second = maximumOf(row.secondAlias, row.secondMaximumMinor, row.secondSequence)
  const { closesAt, heldSince, bids, extensions } = row
  const terms = { currency, openingMinor, reserveMinor, ladder }
  return { row, state: { terms, phase: row.state as LotPhase, closesAt, heldSince, leader, second, bids, extensions } }
}

const maximumOf = (bidder: string | null, maximumMinor: number | null, sequence: number | null): Maximum | null =>
  bidder === null || maximumMinor === null || sequence === null ? null : { bidder, maximumMinor, sequence }

/** All bids of a lot that count, in order of arrival. */
export function listArrivals(sight: Sight, lotId: string): Maximum[] {
  const voided = new Set(store.listAliases(sight.db, lotId).flatMap(({ alias, voidedAt }) => (voidedAt === null ? [] : [alias])))
  return store
    .listBidsOfLot(sight.db, lotId)
    .filter(({ alias }) => !voided.has(alias))
    .map(({ alias: bidder, maximumMinor, sequence }) => ({ bidder, maximumMinor, sequence }))
}

/** What a lot keeps of a state, so that it need not be replayed. */
export function keptOf(state: LotState) {
  return {
    closesAt: state.closesAt,
    leaderAlias: state.leader?.bidder ?? null,
    leaderMaximumMinor: state.leader?.maximumMinor ?? null,
    leaderSequence: state.leader?.sequence ?? null,
    secondAlias: state.second?.bidder ?? null,
    secondMaximumMinor: state.second?.maximumMinor ?? null,
    secondSequence: state.second?.sequence ?? null,
    standingMinor: priceOf(state.terms, state)?.priceMinor ?? null,
    bids: state.bids,
    extensions: state.extensions,
  }
}

/** Who stands behind an alias; for the house alone. */
export const personOf = (sight: Sight, lotId: string, alias: string): string | null =>
  store.listAliases(sight.db, lotId).find((one) => one.alias === alias)?.personId ?? null
