import { invariant } from '../kernel/invariant'
import { Refusal } from '../kernel/refusal'
import { changeLot, getLotRow, keepBid, type LotRow } from '../lots/lots.service'
import type { Sight, Turn } from '../runtime/turn'
import * as store from './bidding.store'
import { decide, type LotCommand } from './decide.rules'
import type { Leaf } from './history.contract'
import { leavesOf, revealedLeaf } from './leaves.rules'
import { type Appended, appendLeaves } from './ledger.service'
import type { Maximum, PriceTerms } from './price.rules'
import { priceOf } from './price.rules'
import { apply, hammerOf, type LotFact, type LotPhase, type LotState } from './replay.rules'

/** A lot whose terms are fixed, as the rules see it. */
export interface Sale {
  row: LotRow
  terms: PriceTerms
  state: LotState
}

export function loadSale(sight: Sight, number: number): Sale {
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  if (row.soldWhere === 'elsewhere')
    throw new Refusal('conflict', `This lot is sold elsewhere: ${row.elsewhereUrl ?? 'the address follows'}.`)
  if (!row.terms) throw new Refusal('too-early', 'This lot is not open yet.')
  return saleOf(row)
}

export function saleOf(row: LotRow): Sale {
  invariant(row.terms, 'an open lot has terms')
  const { currency, openingMinor, reserveMinor, ladder } = row.terms
  const leader = maximumOf(row.leaderAlias, row.leaderMaximumMinor, row.leaderSequence)
  const second = maximumOf(row.secondAlias, row.secondMaximumMinor, row.secondSequence)
  const { closesAt, heldSince, bids, extensions } = row
  const phase = row.state as LotPhase
  return {
    row,
    terms: { currency, openingMinor, reserveMinor, ladder },
    state: { phase, closesAt, heldSince, leader, second, bids, extensions },
  }
}

const maximumOf = (bidder: string | null, maximumMinor: number | null, sequence: number | null): Maximum | null =>
  bidder === null || maximumMinor === null || sequence === null ? null : { bidder, maximumMinor, sequence }

export interface Done {
  row: LotRow
  before: LotState
  state: LotState
  fact: LotFact
  appended: Appended
}

export interface Doing {
  command: LotCommand
  /** The role that did it, or "rule". */
  by: string
  /** Random bytes for a bid's commitment. */
  nonce?: string
  /** What else goes into the row together with the new state. */
  also?: Partial<LotRow>
  /** Who leads after a bid, where it is known already. */
  leaderPersonId?: string
}

/** One command to one lot: decided by the rules, written to the ledger, kept on the lot, recorded. Refuses as the rules do. */
export function act(turn: Turn, { row, terms, state }: Sale, { command, by, nonce, also, leaderPersonId }: Doing): Done {
  const decision = decide(terms, state, command, turn.now)
  if (!decision.yes) {
    throw decision.field
      ? Refusal.at(decision.field, decision.words, decision.code)
      : new Refusal(decision.code, heldWords(decision.words, decision.code, row))
  }
  const { fact } = decision
  invariant(fact.kind !== 'opened', 'a lot opens in its own way')
  const arrivals = fact.kind === 'voided' ? listArrivals(turn, row.id) : []
  const after = apply(terms, state, fact, arrivals)
  const leaves: Leaf[] = leavesOf({ lot: row.number, terms, fact, before: state, after, by, nonce: nonce ?? null })
  if (fact.kind === 'closed' || fact.kind === 'withdrawn') leaves.push(reveal(turn, row, after, fact.at))
  const appended = appendLeaves(turn, row, leaves)
  const kept = keptOf(after, terms)
  const personId = leaderPersonId ?? (after.leader ? leaderOf(turn, row, after.leader.bidder) : null)
  if (fact.kind === 'bid') keepBid(turn, { id: row.id, ...kept, leaderPersonId: personId, sequence: fact.sequence })
  else changeLot(turn, row.id, { ...kept, leaderPersonId: personId, state: after.phase, heldSince: after.heldSince, ...also })
  const done = { ...appended.row, ...kept, leaderPersonId: personId, state: after.phase, heldSince: after.heldSince, ...also }
  announce(turn, done, fact, state, after, terms)
  return { row: done, before: state, state: after, fact, appended }
}

/** All bids of a lot that count, in order of arrival. */
export function listArrivals(sight: Sight, lotId: string): Maximum[] {
  const voided = new Set(store.listAliases(sight.db, lotId).flatMap(({ alias, voidedAt }) => (voidedAt === null ? [] : [alias])))
  return store
    .listBidsOfLot(sight.db, lotId)
    .filter(({ alias }) => !voided.has(alias))
    .map(({ alias: bidder, maximumMinor, sequence }) => ({ bidder, maximumMinor, sequence }))
}

export function keptOf(state: LotState, terms: PriceTerms) {
  return {
    closesAt: state.closesAt,
    leaderAlias: state.leader?.bidder ?? null,
    leaderMaximumMinor: state.leader?.maximumMinor ?? null,
    leaderSequence: state.leader?.sequence ?? null,
    secondAlias: state.second?.bidder ?? null,
    secondMaximumMinor: state.second?.maximumMinor ?? null,
    secondSequence: state.second?.sequence ?? null,
    standingMinor: priceOf(terms, state)?.priceMinor ?? null,
    bids: state.bids,
    extensions: state.extensions,
  }
}

function leaderOf(sight: Sight, row: LotRow, alias: string): string | null {
  if (row.leaderAlias === alias) return row.leaderPersonId
  return personOf(sight, row.id, alias)
}

/** Who stands behind an alias; for the house alone. */
export const personOf = (sight: Sight, lotId: string, alias: string): string | null =>
  store.listAliases(sight.db, lotId).find((one) => one.alias === alias)?.personId ?? null

function reveal(turn: Turn, row: LotRow, after: LotState, at: number): Leaf {
  const openings = store
    .listBidsOfLot(turn.db, row.id)
    .map(({ sequence, alias, maximumMinor: amountMinor, nonce }) => ({ sequence, alias, amountMinor, nonce }))
  const secret = store.findReserveSecret(turn.db, row.id)
  return revealedLeaf(at, after, openings, secret ? { amountMinor: secret.amountMinor, nonce: secret.nonce } : null)
}

/** What everybody may know of it, complete in itself: no maximum, no reserve, no name. */
function announce(turn: Turn, row: LotRow, fact: LotFact, before: LotState, after: LotState, terms: PriceTerms): void {
  const subject = `lot:${row.number}`
  const common = {
    number: row.number,
    unit: row.unitTag,
    standingMinor: row.standingMinor,
    leaderAlias: row.leaderAlias,
    closesAt: row.closesAt,
  }
  const reason = 'reason' in fact ? { reason: fact.reason } : {}
  turn.record({ kind: `lot.${fact.kind}`, subject, body: { ...common, bids: row.bids, ...reason, ...endOf(fact, after, terms) } })
  if (fact.kind === 'bid' && after.extensions > before.extensions) {
    turn.record({ kind: 'lot.extended', subject, body: { ...common, times: after.extensions, by: 'rule' } })
  }
}

const endOf = (fact: LotFact, after: LotState, terms: PriceTerms) =>
  fact.kind === 'closed' ? { result: after.phase, hammerMinor: hammerOf(terms, after) } : {}

const heldWords = (words: string, code: string, row: LotRow): string =>
  code === 'on-hold' && row.heldReason ? `${words} The reason: ${row.heldReason}` : words
