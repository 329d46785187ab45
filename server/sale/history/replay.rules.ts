import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { NamedCertificate } from '../lots/lots.contract'
import { afterVoid } from '../price/closing.rules'
import { afterLateBid, lateBidOf } from '../price/late-bid.rules'
import { hammerOf, type Maximum, type Pair, type PriceTerms, pairOf, priceOf, withMaximum } from '../price/price.rules'

/** What happened to a lot, in order. The extension by a late bid is no fact of its own: the rule makes it out of the bid. */
export type LotFact =
  | { kind: 'opened'; at: Instant; closesAt: Instant }
  | { kind: 'bid'; at: Instant; sequence: number; bidder: string; maximumMinor: Minor }
  | { kind: 'extended'; at: Instant; closesAt: Instant; reason: string }
  | { kind: 'held'; at: Instant; reason: string }
  | { kind: 'resumed'; at: Instant; shiftMs: number }
  | { kind: 'outage'; at: Instant; from: Instant; to: Instant; shiftMs: number }
  | { kind: 'voided'; at: Instant; bidder: string; reason: string }
  | { kind: 'corrected'; at: Instant; words: string; certificate?: NamedCertificate }
  | { kind: 'withdrawn'; at: Instant; reason: string }
  | { kind: 'closed'; at: Instant }

export type LotPhase = 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'

/** All that the next decision depends on: the terms, and what is kept between two bids. A replay of all facts gives the same. */
export interface LotState extends Pair {
  terms: PriceTerms
  phase: LotPhase
  closesAt: Instant | null
  heldSince: Instant | null
  bids: number
  extensions: number
}

/** A lot before anything has happened to it, with the terms under which it will open. */
export const unopened = (terms: PriceTerms): LotState => ({
  terms,
  phase: 'ready',
  closesAt: null,
  heldSince: null,
  leader: null,
  second: null,
  bids: 0,
  extensions: 0,
})

/** The state after one more fact. `arrivals` are all bids that count so far; only a void looks at them. */
export function apply(state: LotState, fact: LotFact, arrivals: readonly Maximum[]): LotState {
  const closesAt = state.closesAt ?? 0
  switch (fact.kind) {
    case 'opened':
      return { ...unopened(state.terms), phase: 'open', closesAt: fact.closesAt }
    case 'bid':
      return applyBid(state, fact)
    case 'extended':
      return { ...state, closesAt: Math.max(closesAt, fact.closesAt), extensions: state.extensions + 1 }
    case 'held':
      return { ...state, phase: 'held', heldSince: fact.at }
    case 'resumed':
      return { ...state, phase: 'open', heldSince: null, closesAt: closesAt + fact.shiftMs }
    case 'outage':
      return { ...state, closesAt: closesAt + fact.shiftMs }
    case 'voided': {
      const left = arrivals.filter(({ bidder }) => bidder !== fact.bidder)
      return { ...state, ...pairOf(left), bids: left.length, closesAt: afterVoid(closesAt, state.heldSince ?? fact.at) }
    }
    case 'corrected':
      return state
    case 'withdrawn':
      return { ...state, phase: 'withdrawn', heldSince: null }
    case 'closed':
      return { ...state, phase: hammerOf(state.terms, state) === null ? 'unsold' : 'sold' }
  }
}

/** The state that all facts lead to, whoever replays them. */
export function replay(terms: PriceTerms, facts: readonly LotFact[]): LotState {
  let arrivals: Maximum[] = []
  let state = unopened(terms)
  for (const fact of facts) {
    if (fact.kind === 'bid') arrivals.push(fact)
    state = apply(state, fact, arrivals)
    if (fact.kind === 'voided') arrivals = arrivals.filter(({ bidder }) => bidder !== fact.bidder)
  }
  return state
}

function applyBid(state: LotState, { at, bidder, maximumMinor, sequence }: Extract<LotFact, { kind: 'bid' }>): LotState {
  const { terms } = state
  const pair = withMaximum(state, { bidder, maximumMinor, sequence })
  const mattered = pair.leader?.bidder !== state.leader?.bidder || priceOf(terms, pair)?.priceMinor !== priceOf(terms, state)?.priceMinor
  const closesAt = mattered && state.closesAt !== null ? afterLateBid(state.closesAt, at, lateBidOf(terms)) : state.closesAt
  const extensions = state.extensions + (closesAt === state.closesAt ? 0 : 1)
  return { ...state, ...pair, bids: state.bids + 1, closesAt, extensions }
}
