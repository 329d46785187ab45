import type { Instant } from '#kernel/instant'
import { noteAlive, silentSince } from '#runtime/queue/alive'
import type { Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { openedLot } from '../bids/lot-state.service'
import { listReadyRows, listRunningRows } from '../lots/lots.service'
import { afterStanding, type Outage, outageOf } from '../price/closing.rules'
import { closeDueLots } from './close-due.service'
import { movePlans } from './closings.service'
import { setAsideDamaged } from './set-aside.service'

/**
 * Run once at start, before any command and any closing: if the house was silent for long enough while late bids could
 * have come in for an open lot, closings make room as after a hold and the history of each that moves says so.
 */
export function settleOutage(
  turn: Turn,
  placesOf: (outage: Outage, lots: readonly number[]) => ReadonlyMap<number, Instant>,
): Outage | null {
  setAsideDamaged(turn)
  const from = silentSince(turn)
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
  const planned = listReadyRows(turn).filter(({ closesAt }) => (closesAt ?? 0) > from)
  const places = placesOf(
    outage,
    [...open, ...planned].map(({ number }) => number),
  )
  for (const row of open) {
    const was = row.closesAt ?? from
    const shiftMs = Math.max(places.get(row.number) ?? was, afterStanding(was, outage.from, outage.to)) - was
    if (shiftMs <= 0) continue
    const command = { kind: 'outage', ...outage, shiftMs } as const
    applyCommand(turn, openedLot(turn, row), { command, by: 'rule' })
  }
  movePlans(turn, places)
  return outage
}
