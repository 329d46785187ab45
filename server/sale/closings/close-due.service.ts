import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { findPaddle } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { openedLot } from '../bids/lot-state.service'
import { advanceEitherOrsAfterEnd } from '../either-or/either-or.service'
import { tellOfEnd } from '../letters/letters.service'
import { hammerFell } from '../lots/hammer.contract'
import { findNextToClose, getLotRow, type LotRow, postageOf } from '../lots/lots.service'
import { hammerOf } from '../price/price.rules'
import { setAsideIfDamaged } from './set-aside.service'

/**
 * Closes every lot that is due, earliest first, each at its own instant; of two at one instant the lower number first.
 * The queue does this before any command: what wakes at a close has then arrived before whatever came after that
 * close, however late the sweep.
 */
export function closeDueLots(turn: Turn, until: Instant = turn.now): void {
  for (let due = findNextToClose(turn); due && due.closesAt <= until; due = findNextToClose(turn))
    closeLot(turn, getLotRow(turn, due.number))
}

function closeLot(turn: Turn, row: LotRow): void {
  const { closesAt } = row
  invariant(closesAt !== null, 'a lot that is due has a closing')
  if (setAsideIfDamaged(turn, row)) return
  const lot = openedLot(turn, row)
  const hammerMinor = hammerOf(lot.state.terms, lot.state)
  const won = hammerMinor === null ? {} : { hammerMinor, winnerPersonId: row.leaderPersonId }
  const { row: done } = applyCommand(turn, lot, { command: { kind: 'close' }, by: 'rule', also: { endedAt: closesAt, ...won } })
  const { winnerPersonId } = done
  const country = winnerPersonId ? findPaddle(turn, winnerPersonId)?.country : undefined
  const postageMinor = country ? postageOf(turn, done, country) : null
  if (winnerPersonId && hammerMinor !== null) {
    turn.record(hammerFell({ lotId: row.id, number: row.number, hammerMinor, postageMinor: postageMinor ?? 0, winnerPersonId }))
  }
  tellOfEnd(turn, done)
  advanceEitherOrsAfterEnd(turn, done, closesAt)
}
