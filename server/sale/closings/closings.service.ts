import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot, openedLot } from '../bids/lot-state.service'
import { advanceEitherOrsAfterEnd } from '../either-or/either-or.service'
import { tellOfWithdrawal } from '../letters/letters.service'
import { changeLot, getLotRow, type LotRow, listReadyRows } from '../lots/lots.service'
import { PROGRAMME_CHANGED } from '../price/closing.rules'

/**
 * Says when a lot is to close; `null` takes the plan back while the lot is not open. The lot's closing is the one truth
 * that everybody reads. Once open, a closing only ever moves later, and the history says so.
 */
export function planClosing(turn: Turn, lotNumber: number, closesAt: Instant | null): void {
  const row = getLotRow(turn, lotNumber)
  if (closesAt === row.closesAt) return
  if (row.state === 'draft' || row.state === 'ready') {
    if (closesAt !== null && closesAt <= turn.now) throw Refusal.at('closesAt', 'That time is past. Choose a later one.')
    keepPlan(turn, row, closesAt)
    return
  }
  if (closesAt === null) throw Refusal.at('closesAt', 'An open lot must keep a closing. Withdraw the lot instead.', 'conflict')
  if (row.soldWhere === 'elsewhere' && row.endedAt === null) moveElsewhere(turn, row, closesAt)
  else applyCommand(turn, openedLot(turn, row), { command: { kind: 'extend', closesAt, reason: PROGRAMME_CHANGED }, by: 'programme' })
}

/** Plans of lots that are not open yet make room where clocks that stood still go on; without a place of its own a plan stays. */
export function movePlans(turn: Turn, places: ReadonlyMap<number, Instant>): void {
  for (const row of listReadyRows(turn)) {
    const closesAt = places.get(row.number)
    if (closesAt !== undefined && row.closesAt !== null && closesAt > row.closesAt) keepPlan(turn, row, closesAt)
  }
}

/** A lot that is sold elsewhere closes when it closes there: either way, so long as its result is not in. */
function moveElsewhere(turn: Turn, row: LotRow, closesAt: Instant): void {
  if (closesAt <= turn.now) throw Refusal.at('closesAt', 'That time is past. Choose a later one.')
  keepPlan(turn, row, closesAt)
}

function keepPlan(turn: Turn, { id, number }: LotRow, closesAt: Instant | null): void {
  changeLot(turn, id, { closesAt })
  turn.record({ kind: 'lot.planned', subject: `lot:${number}`, body: { number, closesAt } })
}

/** The staff give an open lot more time, by name and with a reason. */
export function extendClosing(turn: Turn, actor: Actor, input: { lot: number; minutes: number; reason: string }): LotRow {
  const lot = loadOpenedLot(turn, input.lot)
  const closesAt = (lot.state.closesAt ?? turn.now) + input.minutes * MINUTE
  return applyCommand(turn, lot, { command: { kind: 'extend', closesAt, reason: input.reason }, by: actor.role }).row
}

/** Ends a lot without a winner, whatever it had come to. */
export function withdrawLot(turn: Turn, actor: Actor, input: { lot: number; reason: string }): LotRow {
  const row = getLotRow(turn, input.lot)
  const also = { endedAt: turn.now, endReason: input.reason, heldReason: null, heldWithAll: false }
  if (row.terms && row.soldWhere === 'here') {
    const command = { kind: 'withdraw', reason: input.reason } as const
    const { row: done } = applyCommand(turn, openedLot(turn, row), { command, by: actor.role, also })
    tellOfWithdrawal(turn, done, input.reason)
    advanceEitherOrsAfterEnd(turn, done, turn.now)
    return done
  }
  if (row.endedAt !== null) throw new Refusal('too-late', 'This lot has ended.')
  const change = { ...also, state: 'withdrawn', heldSince: null } as const
  changeLot(turn, row.id, change)
  turn.record({
    kind: 'lot.withdrawn',
    subject: `lot:${row.number}`,
    body: { number: row.number, unit: row.unitTag, reason: input.reason },
  })
  return { ...row, ...change }
}
