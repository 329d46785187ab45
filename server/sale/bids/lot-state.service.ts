import type { Db } from '#db/open'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import type { LotPhase, LotState } from '../history/replay.rules'
import { findHead, getLotRow, type LotRow } from '../lots/lots.service'
import { type Maximum, priceOf } from '../price/price.rules'

/** A lot whose terms are fixed: its row, and the same as the rules see it. */
export interface OpenedLot {
  row: LotRow
  state: LotState
}

/**
 * Open lots between two bids, so that a bid does not read and build the whole lot again. The head of a history names all
 * that led to it: a lot is used only while the head in the database is the one that it was kept at. Whatever was
 * undone since (a refusal's savepoint, a commit that failed, a copy restored) has another head, and is read anew.
 */
const lotsInMemory = new WeakMap<Db, Map<number, OpenedLot>>()

export function keepInMemory(sight: Sight, lot: OpenedLot): void {
  const lots = lotsInMemory.get(sight.db) ?? new Map<number, OpenedLot>()
  lotsInMemory.set(sight.db, lots)
  if (lot.state.phase === 'open') lots.set(lot.row.number, lot)
  else lots.delete(lot.row.number)
}

export function loadOpenedLot(sight: Sight, number: number): OpenedLot {
  const kept = lotsInMemory.get(sight.db)?.get(number)
  if (kept && kept.row.headHash === findHead(sight, number)) return kept
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  if (row.soldWhere === 'elsewhere')
    throw new Refusal('conflict', `This lot is sold elsewhere: ${row.elsewhereUrl ?? 'the address follows'}.`)
  if (!row.terms) throw new Refusal('too-early', 'This lot is not open yet.')
  const lot = openedLot(row)
  keepInMemory(sight, lot)
  return lot
}

export function openedLot(row: LotRow): OpenedLot {
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

/** What a lot's row keeps of a state, so that it need not be replayed. */
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
