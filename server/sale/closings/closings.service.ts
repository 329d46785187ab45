import type { Instant } from '#kernel/instant'
import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { lastAlive } from '#runtime/queue/alive'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import * as store from '../bids/bids.store'
import { act } from '../bids/lot-command.service'
import { loadSale, saleOf } from '../bids/lot-state.service'
import { advanceAfterEnd, advanceOnLot } from '../either-or/either-or.service'
import { tellOfResumption, tellOfUnitHold, tellOfWithdrawal } from '../letters/letters.service'
import { changeLot, findLotOfUnit, getLotRow, type LotRow, listReadyRows, listRunningRows } from '../lots/lots.service'
import { type Outage, outageOf, PROGRAMME_CHANGED, shiftAfterHold } from '../price/closing.rules'
import { closeDueLots } from './close-due.service'

export { closeDueLots } from './close-due.service'

/**
 * Says when a lot is to close; `null` takes the plan back while the lot is not open. The lot's closing is the one truth
 * that everybody reads. Once open, a closing only ever moves later, and the history says so.
 */
export function planClosing(turn: Turn, lotNumber: number, closesAt: Instant | null): void {
  closeDueLots(turn)
  const row = getLotRow(turn, lotNumber)
  if (closesAt === row.closesAt) return
  if (row.state === 'draft' || row.state === 'ready') {
    if (closesAt !== null && closesAt <= turn.now) throw Refusal.at('closesAt', 'That time is past. Choose a later one.')
    changeLot(turn, row.id, { closesAt })
    turn.record({ kind: 'lot.planned', subject: `lot:${row.number}`, body: { number: row.number, closesAt } })
    return
  }
  if (closesAt === null) throw Refusal.at('closesAt', 'An open lot keeps its closing. Withdraw the lot instead.', 'conflict')
  if (row.soldWhere === 'elsewhere' && row.endedAt === null) moveElsewhere(turn, row, closesAt)
  else act(turn, saleOf(row), { command: { kind: 'extend', closesAt, reason: PROGRAMME_CHANGED }, by: 'programme' })
}

/** The staff give an open lot more time, by name and with a reason. */
export function extendClosing(turn: Turn, actor: Actor, input: { lot: number; minutes: number; reason: string }): LotRow {
  closeDueLots(turn)
  const sale = loadSale(turn, input.lot)
  const closesAt = (sale.state.closesAt ?? turn.now) + input.minutes * MINUTE
  return act(turn, sale, { command: { kind: 'extend', closesAt, reason: input.reason }, by: actor.role }).row
}

export function holdLot(turn: Turn, actor: Actor, input: { lot: number; reason: string }): LotRow {
  closeDueLots(turn)
  return act(turn, loadSale(turn, input.lot), hold(input.reason, actor.role)).row
}

/** The open lot of a unit goes on hold because of what was found at the bench; nothing happens when there is none. */
export function holdLotOfUnit(turn: Turn, unitId: string, reason: string): void {
  closeDueLots(turn)
  const found = findLotOfUnit(turn, unitId)
  if (found?.state !== 'open' || found.soldWhere !== 'here') return
  const { row } = act(turn, loadSale(turn, found.number), hold(reason, 'rule'))
  tellOfUnitHold(turn, row, reason)
}

/** The clock of one lot goes on; its closing moves as after any hold. */
export function resumeLot(turn: Turn, actor: Actor, input: { lot: number }): LotRow {
  closeDueLots(turn)
  if (store.findStandingHold(turn.db)) throw new Refusal('on-hold', 'All clocks are stopped. Let them all go on first.')
  const sale = loadSale(turn, input.lot)
  const shiftMs = shiftAfterHold(sale.state.heldSince ?? turn.now, turn.now, sale.state.closesAt)
  const { row } = act(turn, sale, resume(shiftMs, actor.role))
  tellOfResumption(turn, row)
  advanceOnLot(turn, row)
  return row
}

/** Stops all clocks at once: open lots go on hold, none can open. */
export function holdClosings(turn: Turn, actor: Actor, input: { reason: string }): { held: number } {
  closeDueLots(turn)
  if (store.findStandingHold(turn.db)) throw new Refusal('conflict', 'All clocks are stopped already.')
  store.insertHold(turn.db, { id: turn.dice.id(), since: turn.now, reason: input.reason, byPersonId: actor.personId })
  const running = listRunningRows(turn).filter(({ state, closesAt }) => state === 'open' && (closesAt ?? 0) > turn.now)
  for (const row of running) act(turn, saleOf(row), hold(input.reason, actor.role, true))
  turn.record({ kind: 'closings.held', subject: 'closings', body: { reason: input.reason, lots: running.map(({ number }) => number) } })
  return { held: running.length }
}

/** All clocks go on. Every closing that was to come moves by the same time, so the gaps are kept. */
export function resumeClosings(turn: Turn, actor: Actor): { shiftMs: number } {
  closeDueLots(turn)
  const standing = store.findStandingHold(turn.db)
  if (!standing) throw new Refusal('conflict', 'The clocks are running.')
  const held = heldRows(turn)
  const shiftMs = shiftIfResumed(turn, standing.since)
  store.endHold(turn.db, standing.id, turn.now, shiftMs)
  for (const row of held) act(turn, saleOf(row), resume(shiftMs, actor.role))
  for (const row of held) advanceOnLot(turn, row)
  shiftPlans(turn, standing.since, shiftMs)
  turn.record({ kind: 'closings.resumed', subject: 'closings', body: { shiftMs, lots: held.map(({ number }) => number) } })
  return { shiftMs }
}

/** By how much every closing would move if all clocks went on now. */
export function shiftIfResumed(sight: Sight, since: Instant): number {
  const closings = heldRows(sight).flatMap(({ closesAt }) => closesAt ?? [])
  return shiftAfterHold(since, sight.now, closings.length > 0 ? Math.min(...closings) : null)
}

const heldRows = (sight: Sight) => listRunningRows(sight).filter(({ state, heldWithAll }) => state === 'held' && heldWithAll)

/** Whether all clocks are stopped, since when and why. */
export function findStandingHold(sight: Sight): { since: Instant; reason: string } | null {
  const row = store.findStandingHold(sight.db)
  return row ? { since: row.since, reason: row.reason } : null
}

/** Ends a lot without a winner, whatever it had come to. */
export function withdrawLot(turn: Turn, actor: Actor, input: { lot: number; reason: string }): LotRow {
  closeDueLots(turn)
  const row = getLotRow(turn, input.lot)
  const also = { endedAt: turn.now, endReason: input.reason, heldReason: null, heldWithAll: false }
  if (row.terms && row.soldWhere === 'here') {
    const { row: done } = act(turn, saleOf(row), { command: { kind: 'withdraw', reason: input.reason }, by: actor.role, also })
    tellOfWithdrawal(turn, done, input.reason)
    advanceAfterEnd(turn, done, turn.now)
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

/**
 * Run once at start, before any command and any closing: if the house was silent for long enough within the last two minutes of an
 * open lot, the closings move as after a hold and each history says so.
 */
export function settleOutage(turn: Turn): Outage | null {
  const from = lastAlive(turn)
  if (from === null) return null
  // What was due before the silence closed at its instant, whatever comes after.
  closeDueLots(turn, from)
  const open = listRunningRows(turn).filter(({ state, closesAt }) => state === 'open' && (closesAt ?? 0) > from)
  const outage = outageOf(
    from,
    turn.now,
    open.flatMap(({ closesAt }) => closesAt ?? []),
  )
  if (!outage) return null
  for (const row of open) act(turn, saleOf(row), { command: { kind: 'outage', ...outage }, by: 'rule' })
  shiftPlans(turn, from, outage.shiftMs)
  return outage
}

function shiftPlans(turn: Turn, since: Instant, shiftMs: number): void {
  for (const { id, number, closesAt } of listReadyRows(turn)) {
    if (closesAt === null || closesAt <= since) continue
    changeLot(turn, id, { closesAt: closesAt + shiftMs })
    turn.record({ kind: 'lot.planned', subject: `lot:${number}`, body: { number, closesAt: closesAt + shiftMs } })
  }
}

/** A lot that is sold elsewhere closes when it closes there: either way, so long as its result is not in. */
function moveElsewhere(turn: Turn, row: LotRow, closesAt: Instant): void {
  if (closesAt <= turn.now) throw Refusal.at('closesAt', 'That time is past. Choose a later one.')
  changeLot(turn, row.id, { closesAt })
  turn.record({ kind: 'lot.planned', subject: `lot:${row.number}`, body: { number: row.number, closesAt } })
}

const hold = (reason: string, by: string, heldWithAll = false) =>
  ({ command: { kind: 'hold', reason }, by, also: { heldReason: reason, heldWithAll } }) as const

const resume = (shiftMs: number, by: string) =>
  ({ command: { kind: 'resume', shiftMs }, by, also: { heldReason: null, heldWithAll: false } }) as const
