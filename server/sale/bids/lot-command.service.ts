import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import type { Turn } from '#runtime/queue/turn'
import { personBehind } from '../bidders/aliases.service'
import { decide, type LotCommand } from '../history/decide.rules'
import type { Leaf } from '../history/history.contract'
import { type Happening, leavesOf, revealedLeaf } from '../history/leaves.rules'
import { type Appended, appendLeaves } from '../history/ledger.service'
import { apply, type LotFact, type LotState } from '../history/replay.rules'
import { changeLot, keepBid, type LotRow } from '../lots/lots.service'
import { lateBidOf, lateBidReason } from '../price/late-bid.rules'
import { hammerOf } from '../price/price.rules'
import { listArrivals, listBidsOfLot } from './bids.service'
import { keepInMemory, keptOf, type OpenedLot } from './lot-state.service'

/** A lot after a command, and what the command came to. */
export interface AppliedCommand extends OpenedLot {
  before: LotState
  fact: LotFact
  appended: Appended
}

export interface CommandOnLot {
  command: LotCommand
  /** The role that did it, or "rule". */
  by: string
  /** The two of the staff behind a void. */
  two?: Happening['two']
  /** The instant that counts, where it is not that of the turn: a maximum that wakes arrives at the close that woke it. */
  at?: Instant
  /** Random bytes for a bid's commitment. */
  nonce?: string
  /** What else goes into the row together with the new state. */
  also?: Partial<LotRow>
  /** Who leads after a bid, where it is known already. */
  leaderPersonId?: string
}

/** One command to one lot: decided by the rules, written to the ledger, kept on the lot, recorded. Refuses as the rules do. */
export function applyCommand(
  turn: Turn,
  { row, state }: OpenedLot,
  { command, by, two, at = turn.now, nonce, also, leaderPersonId }: CommandOnLot,
): AppliedCommand {
  const decision = decide(state, command, at)
  if (!decision.yes) {
    throw decision.field
      ? Refusal.at(decision.field, decision.words, decision.code)
      : new Refusal(decision.code, heldWords(decision.words, decision.code, row))
  }
  const { fact } = decision
  invariant(fact.kind !== 'opened', 'a lot opens in its own way')
  const arrivals = fact.kind === 'voided' ? listArrivals(turn, row.id) : []
  const after = apply(state, fact, arrivals)
  const leaves: Leaf[] = leavesOf({ lot: row.number, fact, before: state, after, by, two, nonce: nonce ?? null })
  if (fact.kind === 'closed' || fact.kind === 'withdrawn') leaves.push(reveal(turn, row, after, fact.at))
  const appended = appendLeaves(turn, row, leaves)
  const personId = leaderPersonId ?? (after.leader ? leaderOf(turn, row, after.leader.bidder) : null)
  const kept = { ...keptOf(after), ...appended.kept, leaderPersonId: personId }
  const sequence = fact.kind === 'bid' ? fact.sequence : row.sequence
  const phase = { state: after.phase, heldSince: after.heldSince, ...also }
  if (fact.kind === 'bid') keepBid(turn, { id: row.id, ...kept, sequence })
  else changeLot(turn, row.id, { ...kept, ...phase })
  const lot = { row: { ...row, ...kept, ...phase, sequence }, state: after }
  keepInMemory(turn, lot)
  announce(turn, lot.row, fact, state, after)
  return { ...lot, before: state, fact, appended }
}

function leaderOf(turn: Turn, row: LotRow, alias: string): string | null {
  if (row.leaderAlias === alias) return row.leaderPersonId
  return personBehind(turn, row.id, alias)
}

function reveal(turn: Turn, row: LotRow, after: LotState, at: Instant): Leaf {
  const openings = listBidsOfLot(turn, row.id).map(({ sequence, alias, maximumMinor: amountMinor, nonce }) => ({
    sequence,
    alias,
    amountMinor,
    nonce,
  }))
  return revealedLeaf(at, after, openings, row.reserve)
}

/** What everybody may know of it, complete in itself: no maximum, no reserve, no name. */
function announce(turn: Turn, row: LotRow, fact: LotFact, before: LotState, after: LotState): void {
  const subject = `lot:${row.number}`
  const common = {
    number: row.number,
    unit: row.unitTag,
    standingMinor: row.standingMinor,
    leaderAlias: row.leaderAlias,
    closesAt: row.closesAt,
  }
  const reason = 'reason' in fact ? { reason: fact.reason } : {}
  const words = fact.kind === 'corrected' ? { words: fact.words } : {}
  turn.record({ kind: `lot.${fact.kind}`, subject, body: { ...common, bids: row.bids, ...reason, ...words, ...endOf(fact, after) } })
  if (fact.kind === 'bid' && after.extensions > before.extensions) {
    turn.record({
      kind: 'lot.extended',
      subject,
      body: { ...common, times: after.extensions, by: 'rule', why: lateBidReason(lateBidOf(after.terms)) },
    })
  }
}

const endOf = (fact: LotFact, after: LotState) =>
  fact.kind === 'closed' ? { result: after.phase, hammerMinor: hammerOf(after.terms, after) } : {}

const heldWords = (words: string, code: string, row: LotRow): string =>
  code === 'on-hold' && row.heldReason ? `${words} The reason: ${row.heldReason}` : words
