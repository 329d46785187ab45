import { toIso } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { lateBidOf, lateBidReason } from '../price/late-bid.rules'
import { hammerOf, priceOf } from '../price/price.rules'
import type { Leaf, OfTheTwo, Opening, OpenTerms } from './history.contract'
import { commitmentTo, reserveCommitmentTo } from './ledger.rules'
import type { LotFact, LotState } from './replay.rules'

/** The amount and the random bytes that a commitment hides until it is opened. */
export interface Secret {
  amountMinor: number
  nonce: string
}

export interface Happening {
  lot: number
  /** Anything but the opening, which `openedLeaf` writes with its terms. */
  fact: Exclude<LotFact, { kind: 'opened' }>
  after: LotState
  before: LotState
  /** Who did it, as a role: "maker", "host"; "rule" where nobody did. */
  by: string
  /** The two of the staff behind a void. */
  two?: { asked: OfTheTwo; agreed: OfTheTwo }
  /** Random bytes of the bid's commitment; null for anything but a bid. */
  nonce: string | null
}

/** What the ledger says of one fact: one entry, or two when a late bid has moved the closing. */
export function leavesOf(happening: Happening): Leaf[] {
  const { fact, before, after, by, two, lot, nonce } = happening
  const { terms } = after
  const at = toIso(fact.at)
  const closesAt = toIso(after.closesAt ?? fact.at)
  const price = priceOf(terms, after)
  const standingBid = { standingMinor: price?.priceMinor ?? null, leader: after.leader?.bidder ?? null, why: price?.why ?? null, closesAt }
  switch (fact.kind) {
    case 'bid': {
      invariant(nonce, 'a bid is committed to with random bytes')
      const { bidder: alias, sequence, maximumMinor: amountMinor } = fact
      const commitment = commitmentTo({ lot, alias, sequence, amountMinor, nonce })
      const bid: Leaf = { kind: 'bid', at, sequence, alias, commitment, ...standingBid }
      return after.extensions === before.extensions
        ? [bid]
        : [bid, { kind: 'extended', at, closesAt, by: 'rule', reason: lateBidReason(lateBidOf(terms)) }]
    }
    case 'extended':
      return [{ kind: 'extended', at, closesAt, by, reason: fact.reason }]
    case 'held':
      return [{ kind: 'held', at, by, reason: fact.reason }]
    case 'resumed':
      return [{ kind: 'resumed', at, by, shiftMs: fact.shiftMs, closesAt }]
    case 'outage':
      return [{ kind: 'outage', at, from: toIso(fact.from), to: toIso(fact.to), shiftMs: fact.shiftMs, closesAt }]
    case 'voided':
      return [{ kind: 'voided', at, alias: fact.bidder, by, reason: fact.reason, ...two, ...standingBid }]
    case 'corrected':
      return [{ kind: 'corrected', at, by, words: fact.words, ...(fact.certificate && { certificate: fact.certificate }) }]
    case 'withdrawn':
      return [{ kind: 'withdrawn', at, by, reason: fact.reason }]
    case 'closed': {
      const hammerMinor = hammerOf(terms, after)
      return [{ kind: 'closed', at, result: hammerMinor === null ? 'unsold' : 'sold', hammerMinor, leader: standingBid.leader }]
    }
  }
}

/** The first entry of a ledger: the terms for all to read, the reserve as a commitment. */
export function openedLeaf(lot: number, fact: Extract<LotFact, { kind: 'opened' }>, terms: OpenTerms, reserve: Secret | null): Leaf {
  return {
    kind: 'opened',
    at: toIso(fact.at),
    closesAt: toIso(fact.closesAt),
    terms,
    reserveCommitment: reserve && reserveCommitmentTo(lot, reserve.amountMinor, reserve.nonce),
  }
}

/** After the end: every maximum but the winner's last is opened, voided ones too, and the reserve. */
export function revealedLeaf(at: number, after: LotState, openings: readonly Opening[], reserve: Secret | null): Leaf {
  const sealed = after.phase === 'sold' ? (after.leader?.sequence ?? null) : null
  return { kind: 'revealed', at: toIso(at), openings: openings.filter(({ sequence }) => sequence !== sealed), reserve, sealed }
}
