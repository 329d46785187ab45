import { lastAlive, noteAlive } from '#runtime/queue/alive'
import type { Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { openedLot } from '../bids/lot-state.service'
import { listRunningRows } from '../lots/lots.service'
import { type Outage, outageOf } from '../price/closing.rules'
import { closeDueLots } from './close-due.service'
import { shiftPlans } from './closings.service'
import { setAsideDamaged } from './set-aside.service'

/**
 * Run once at start, before any command and any closing: if the house was silent for long enough while late bids could
 * have come in for an open lot, the closings move as after a hold and each history says so.
 */
export function settleOutage(turn: Turn): Outage | null {
  setAsideDamaged(turn)
  const from = lastAlive(turn)
  if (from === null) return null
  // What was due before the silence closed at its instant, whatever comes after.
  closeDueLots(turn, from)
  const open = listRunningRows(turn).filter(({ state, closesAt }) => state === 'open' && (closesAt ?? 0) > from)
  const outage = outageOf(
    from,
    turn.now,
    open.flatMap(({ closesAt, terms }) => (closesAt === null ? [] : [{ closesAt, lateBid: terms?.lateBid }])),
  )
  // Settled once: whoever looks again, and be it after a crash at this very moment, counts from here.
  noteAlive(turn)
  if (!outage) return null
  for (const row of open) applyCommand(turn, openedLot(turn, row), { command: { kind: 'outage', ...outage }, by: 'rule' })
  shiftPlans(turn, from, outage.shiftMs)
  return outage
}
