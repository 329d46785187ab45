import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { findPaddle } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { act } from '../bids/lot-command.service'
import { personOf, saleOf } from '../bids/lot-state.service'
import { advanceAfterEnd } from '../either-or/either-or.service'
import { tellOfEnd } from '../letters/letters.service'
import { hammerFell } from '../lots/hammer.contract'
import { findNextToClose, getLotRow, type LotRow, postageOf } from '../lots/lots.service'

/**
 * Closes every lot that is due, earliest first, each at its own instant; of two at one instant the lower number first.
 * Every command on a lot does this before anything else: what wakes at a close has then arrived before whatever
 * came after that close, however late the sweep.
 */
export function closeDueLots(turn: Turn, until: Instant = turn.now): void {
  for (let due = findNextToClose(turn); due && due.closesAt <= until; due = findNextToClose(turn))
    closeLot(turn, getLotRow(turn, due.number))
}

function closeLot(turn: Turn, row: LotRow): void {
  const { closesAt } = row
  invariant(closesAt !== null, 'a lot that is due has a closing')
  const isSold = row.leaderPersonId !== null && (row.terms?.reserveMinor ?? 0) <= (row.leaderMaximumMinor ?? 0)
  const won = isSold ? { hammerMinor: row.standingMinor, winnerPersonId: row.leaderPersonId } : {}
  const done = act(turn, saleOf(row), { command: { kind: 'close' }, by: 'rule', also: { endedAt: closesAt, ...won } }).row
  const { winnerPersonId, hammerMinor } = done
  const country = winnerPersonId ? findPaddle(turn, winnerPersonId)?.country : undefined
  const postageMinor = country ? postageOf(turn, done, country) : null
  if (winnerPersonId && hammerMinor !== null) {
    turn.record(hammerFell({ lotId: row.id, number: row.number, hammerMinor, postageMinor: postageMinor ?? 0, winnerPersonId }))
  }
  tellOfEnd(turn, done, { second: done.secondAlias ? personOf(turn, row.id, done.secondAlias) : null })
  advanceAfterEnd(turn, done, closesAt)
}
