import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot, openedLot } from '../bids/lot-state.service'
import { advanceEitherOrsOnLot } from '../either-or/either-or.service'
import { tellOfResumption, tellOfUnitHold } from '../letters/letters.service'
import { findLotOfUnit, type LotRow, listRunningRows } from '../lots/lots.service'
import { shiftAfterHold } from '../price/closing.rules'
import { shiftPlans } from './closings.service'
import * as store from './closings.store'

/** Whether all clocks are stopped, since when and why. */
export function findHoldOfAll(sight: Sight): { since: Instant; reason: string } | null {
  const row = store.findHoldOfAll(sight.db)
  return row ? { since: row.since, reason: row.reason } : null
}

export function holdLot(turn: Turn, actor: Actor, input: { lot: number; reason: string }): LotRow {
  return applyCommand(turn, loadOpenedLot(turn, input.lot), holding(input.reason, actor.role)).row
}

/** The open lot of a unit goes on hold because of what was found at the bench; nothing happens when there is none. */
export function holdLotOfUnit(turn: Turn, unitId: string, reason: string): void {
  const found = findLotOfUnit(turn, unitId)
  if (found?.state !== 'open' || found.soldWhere !== 'here') return
  const { row } = applyCommand(turn, loadOpenedLot(turn, found.number), holding(reason, 'rule'))
  tellOfUnitHold(turn, row, reason)
}

/** The clock of one lot goes on; its closing moves as after any hold. */
export function resumeLot(turn: Turn, actor: Actor, input: { lot: number }): LotRow {
  if (store.findHoldOfAll(turn.db)) throw new Refusal('on-hold', 'All clocks are stopped. Let them all go on first.')
  const lot = loadOpenedLot(turn, input.lot)
  const shiftMs = shiftAfterHold(lot.state.heldSince ?? turn.now, turn.now, lot.state.closesAt)
  const { row } = applyCommand(turn, lot, resuming(shiftMs, actor.role))
  tellOfResumption(turn, row)
  advanceEitherOrsOnLot(turn, row)
  return row
}

/** Stops all clocks at once: open lots go on hold, none can open. */
export function holdClosings(turn: Turn, actor: Actor, input: { reason: string }): { held: number } {
  if (store.findHoldOfAll(turn.db)) throw new Refusal('conflict', 'All clocks are already stopped.')
  store.insertHold(turn.db, { id: turn.dice.id(), since: turn.now, reason: input.reason, byPersonId: actor.personId })
  const running = listRunningRows(turn).filter(({ state, closesAt }) => state === 'open' && (closesAt ?? 0) > turn.now)
  for (const row of running) applyCommand(turn, openedLot(turn, row), holding(input.reason, actor.role, true))
  turn.record({ kind: 'closings.held', subject: 'closings', body: { reason: input.reason, lots: running.map(({ number }) => number) } })
  return { held: running.length }
}

/** All clocks go on. Every closing that was to come moves by the same time, so the gaps are kept. */
export function resumeClosings(turn: Turn, actor: Actor): { shiftMs: number } {
  const hold = store.findHoldOfAll(turn.db)
  if (!hold) throw new Refusal('conflict', 'The clocks are running.')
  const held = heldRows(turn)
  const shiftMs = shiftIfResumed(turn, hold.since)
  store.endHold(turn.db, hold.id, turn.now, shiftMs)
  for (const row of held) applyCommand(turn, openedLot(turn, row), resuming(shiftMs, actor.role))
  for (const row of held) advanceEitherOrsOnLot(turn, row)
  shiftPlans(turn, hold.since, shiftMs)
  turn.record({ kind: 'closings.resumed', subject: 'closings', body: { shiftMs, lots: held.map(({ number }) => number) } })
  return { shiftMs }
}

/** By how much every closing would move if all clocks went on now. */
export function shiftIfResumed(sight: Sight, since: Instant): number {
  const closings = heldRows(sight).flatMap(({ closesAt }) => closesAt ?? [])
  return shiftAfterHold(since, sight.now, closings.length > 0 ? Math.min(...closings) : null)
}

const heldRows = (sight: Sight) => listRunningRows(sight).filter(({ state, heldWithAll }) => state === 'held' && heldWithAll)

const holding = (reason: string, by: string, heldWithAll = false) =>
  ({ command: { kind: 'hold', reason }, by, also: { heldReason: reason, heldWithAll } }) as const

const resuming = (shiftMs: number, by: string) =>
  ({ command: { kind: 'resume', shiftMs }, by, also: { heldReason: null, heldWithAll: false } }) as const
