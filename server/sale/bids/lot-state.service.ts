import type { Db } from '#db/open'
import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import type { LotPhase, LotState } from '../history/replay.rules'
import { findHead, getLotRow, type LotRow } from '../lots/lots.service'
import { priceOf } from '../price/price.rules'
import { maximumAt } from './bids.service'
import * as store from './bids.store'

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
const lotsInMemory = new WeakMap<Db, Map<number, KeptLot>>()

interface KeptLot {
  lot: OpenedLot
  /** When the last bids of some people on it arrived, in the order in which they came: read at their next bid, and carried on at each. */
  arrivals: Map<string, Instant[]>
}

/** Keeps a lot as it is after a command; `arrivals` are those up to it. */
export function keepInMemory(sight: Sight, lot: OpenedLot, arrivals = arrivalsIn(sight, lot.row.number)): void {
  const lots = lotsInMemory.get(sight.db) ?? new Map<number, KeptLot>()
  lotsInMemory.set(sight.db, lots)
  if (lot.state.phase === 'open') lots.set(lot.row.number, { lot, arrivals })
  else lots.delete(lot.row.number)
}

const arrivalsIn = (sight: Sight, number: number): KeptLot['arrivals'] => lotsInMemory.get(sight.db)?.get(number)?.arrivals ?? new Map()

/** When the bid arrived that is the `nth` counted back from a person's last on a lot that was just loaded; null where there are fewer. */
export function nthLastArrival(sight: Sight, { row }: OpenedLot, personId: string, nth: number): Instant | null {
  const kept = arrivalsIn(sight, row.number)
  const own = kept.get(personId) ?? store.lastArrivals(sight.db, row.id, personId, nth)
  kept.set(personId, own)
  return own.at(-nth) ?? null
}

/** A bid of theirs on it was written; so many of the last are known of each. */
export function noteArrival(sight: Sight, { row }: OpenedLot, personId: string, at: Instant, most: number): void {
  const own = arrivalsIn(sight, row.number).get(personId)
  own?.push(at)
  if (own && own.length > most) own.shift()
}

/** What is held of a lot counts no more: its row was changed while its head stayed. */
export const forgetLot = (sight: Sight, number: number): void => void lotsInMemory.get(sight.db)?.delete(number)

export function loadOpenedLot(sight: Sight, number: number): OpenedLot {
  const kept = lotsInMemory.get(sight.db)?.get(number)?.lot
  if (kept && kept.row.headHash === findHead(sight, number)) return kept
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  if (row.soldWhere === 'elsewhere')
    throw new Refusal('conflict', `This lot is sold elsewhere: ${row.elsewhereUrl ?? 'the address follows'}.`)
  if (!row.terms) throw new Refusal('too-early', 'This lot is not open yet.')
  const lot = readable(sight, row)
  keepInMemory(sight, lot, new Map())
  return lot
}

function readable(sight: Sight, row: LotRow): OpenedLot {
  try {
    return openedLot(sight, row)
  } catch (cause) {
    const reason = row.state === 'held' ? row.heldReason : null
    const words = reason ?? 'The house’s record of this lot is damaged, so nothing can be done with it. Tell whoever runs the sale.'
    throw Object.assign(new Refusal('on-hold', `This lot takes no bids. ${words}`), { cause })
  }
}

export function openedLot(sight: Sight, row: LotRow): OpenedLot {
  invariant(row.terms, 'an open lot has terms')
  const { currency, openingMinor, ladder, lateBid } = row.terms
  const { closesAt, heldSince, bids, extensions } = row
  const leader = row.leaderSequence === null ? null : maximumAt(sight, row.id, row.leaderSequence)
  const second = row.secondSequence === null ? null : maximumAt(sight, row.id, row.secondSequence)
  const terms = { currency, openingMinor, reserveMinor: row.reserve?.amountMinor ?? null, ladder, lateBid }
  return { row, state: { terms, phase: row.state as LotPhase, closesAt, heldSince, leader, second, bids, extensions } }
}

/** What a lot's row keeps of a state, so that it need not be replayed: of the two who stand first their bids, which seal their maxima. */
export function keptOf(state: LotState) {
  return {
    closesAt: state.closesAt,
    leaderAlias: state.leader?.bidder ?? null,
    leaderSequence: state.leader?.sequence ?? null,
    secondAlias: state.second?.bidder ?? null,
    secondSequence: state.second?.sequence ?? null,
    standingMinor: priceOf(state.terms, state)?.priceMinor ?? null,
    bids: state.bids,
    extensions: state.extensions,
  }
}
