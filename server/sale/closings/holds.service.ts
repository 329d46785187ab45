import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot, openedLot } from '../bids/lot-state.service'
import { advanceEitherOrsOnLot } from '../either-or/either-or.service'
import { tellOfResumption, tellOfUnitHold } from '../letters/letters.service'
import { findLotOfUnit, getLotRow, type LotRow, listReadyRows, listRunningRows } from '../lots/lots.service'
import { afterStanding } from '../price/closing.rules'
import { movePlans } from './closings.service'
import * as store from './closings.store'
import { stopsWithAll } from './standing.rules'

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

/** Since when the clock of a lot stands, or null. */
export const findHoldOfLot = (sight: Sight, lot: number): Instant | null => getLotRow(sight, lot).heldSince

/** The clock of one lot goes on, at the place that the day has for it; else by the rule. */
export function resumeLot(turn: Turn, actor: Actor, input: { lot: number }, place?: Instant): LotRow {
  if (store.findHoldOfAll(turn.db)) throw new Refusal('on-hold', 'All clocks are stopped. Let them all go on first.')
  const lot = loadOpenedLot(turn, input.lot)
  const { row } = applyCommand(turn, lot, resuming(shiftOf(turn, lot.row, place), actor.role))
  tellOfResumption(turn, row)
  advanceEitherOrsOnLot(turn, row)
  return row
}

/** Stops all clocks at once: open lots go on hold, none can open. */
export function holdClosings(turn: Turn, actor: Actor, input: { reason: string }): { held: number } {
  if (store.findHoldOfAll(turn.db)) throw new Refusal('conflict', 'All clocks are already stopped.')
  store.insertHold(turn.db, { id: turn.dice.id(), since: turn.now, reason: input.reason, byPersonId: actor.personId })
  const running = listRunningRows(turn).filter((row) => row.state === 'open' && stopsWithAll(row, turn.now))
  for (const row of running) applyCommand(turn, openedLot(turn, row), holding(input.reason, actor.role, true))
  turn.record({ kind: 'closings.held', subject: 'closings', body: { reason: input.reason, lots: running.map(({ number }) => number) } })
  return { held: running.length }
}

/** All clocks go on; each closing goes where the day has a place for it. Answers by how much they moved at most. */
export function resumeClosings(turn: Turn, actor: Actor, places: ReadonlyMap<number, Instant>): { shiftMs: number } {
  const hold = store.findHoldOfAll(turn.db)
  if (!hold) throw new Refusal('conflict', 'The clocks are running.')
  const held = heldRows(turn)
  const shifts = held.map((row) => ({ row, by: shiftOf(turn, row, places.get(row.number)) }))
  const shiftMs = Math.max(0, ...shifts.map(({ by }) => by))
  store.endHold(turn.db, hold.id, turn.now, shiftMs)
  for (const { row, by } of shifts) applyCommand(turn, openedLot(turn, row), resuming(by, actor.role))
  for (const row of held) advanceEitherOrsOnLot(turn, row)
  movePlans(turn, places)
  turn.record({ kind: 'closings.resumed', subject: 'closings', body: { shiftMs, lots: held.map(({ number }) => number) } })
  return { shiftMs }
}

/** Lots whose clocks stand with all: those that are held so, and those that are to open and close after it began. */
export function listStanding(sight: Sight, since: Instant): number[] {
  const planned = listReadyRows(sight).filter((row) => stopsWithAll(row, since))
  return [...heldRows(sight), ...planned].map(({ number }) => number)
}

function shiftOf(turn: Turn, { closesAt, heldSince }: LotRow, place: Instant | undefined): number {
  const was = closesAt ?? turn.now
  return Math.max(place ?? was, afterStanding(was, heldSince ?? turn.now, turn.now)) - was
}

const heldRows = (sight: Sight) => listRunningRows(sight).filter(({ state, heldWithAll }) => state === 'held' && heldWithAll)

const holding = (reason: string, by: string, heldWithAll = false) =>
  ({ command: { kind: 'hold', reason }, by, also: { heldReason: reason, heldWithAll } }) as const

const resuming = (shiftMs: number, by: string) =>
  ({ command: { kind: 'resume', shiftMs }, by, also: { heldReason: null, heldWithAll: false } }) as const
