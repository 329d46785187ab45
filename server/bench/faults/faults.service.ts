import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getDesign } from '../designs/designs.service'
import { standingOf } from '../units/current.rules'
import type { ReadingTaken } from '../units/readings.service'
import { changeOf, designOf, getUnit, loadUnit, takenOf, type UnitState } from '../units/unit-state.service'
import { isPass } from '../units/verdict.rules'
import { decideClosing } from './close.rules'
import { failedIn, seenIn } from './evidence.rules'
import type { closeFaultIn, openFaultIn, setCatchIn, withdrawFaultIn } from './fault.contract'
import * as store from './faults.store'
import { standsNow } from './found.service'
import { mayBeSlip, symptomWords } from './title.rules'

/** A failed check opens a fault, unless the unit is being searched for one already: then it is evidence. */
export function noteReading(turn: Turn, actor: Actor, tag: string, taken: ReadingTaken): void {
  if (isPass(taken.verdict)) return
  const unit = getUnit(turn, tag)
  if (store.findOpenRow(turn.db, unit.id)) return
  const title = designOf(turn, unit).checks.find(({ key }) => key === taken.check)?.title ?? ''
  open(turn, actor, unit, taken.check, symptomWords({ ...taken, title }))
}

/** A fault that no check has shown: it hums, it gets warm. */
export function openFault(turn: Turn, actor: Actor, input: z.output<typeof openFaultIn>): { tag: string } {
  return once(turn, input.key, { openFault: input }, () => {
    const state = loadUnit(turn, input.tag)
    const before = store.findOpenRow(turn.db, state.unit.id)
    if (before)
      throw Refusal.at('symptom', `A fault of ${state.unit.tag} is already open: ${before.symptom}. Close that one first.`, 'conflict')
    open(turn, actor, state.unit, failedIn(state.standing.states)[0] ?? null, input.symptom)
    return { tag: state.unit.tag }
  })
}

/** Closes the open fault with its cause. If another check still fails, the search goes on as the next fault. */
export function closeFault(turn: Turn, actor: Actor, input: z.output<typeof closeFaultIn>): { tag: string; next: string | null } {
  return once(turn, input.key, { closeFault: input }, () => {
    const state = loadUnit(turn, input.tag)
    const { design, unit, standing } = state
    const row = store.findOpenRow(turn.db, unit.id)
    if (!row) throw Refusal.at('cause', `No fault of ${unit.tag} is open.`, 'conflict')
    const failed = failedIn(standing.states)
    const stillFails = row.checkKey !== null && failed.includes(row.checkKey) ? row.checkKey : null
    const { cause, block, designator, changed, minutes } = input
    const answer = decideClosing({ cause, block, designator, blocks: design.blocks, positions: design.positions, stillFails })
    if (!answer.ok) throw Refusal.at(answer.field, answer.words)
    const found = { cause, block: answer.block, designator: answer.designator, changed, minutes: Number(minutes) }
    store.closeRow(turn.db, row.id, { ...found, closedAt: turn.now, closedByPersonId: actor.personId, seen: seenBeforeMending(state, row) })
    turn.record({
      kind: 'fault.closed',
      subject: `unit:${unit.tag}`,
      body: { unitId: unit.id, tag: unit.tag, symptom: row.symptom, ...found },
    })
    const next = failed[0] ?? null
    if (next !== null) open(turn, actor, unit, next, symptomOf(state, next))
    return { tag: unit.tag, next }
  })
}

/** Takes back a fault that was none: its reading was mistyped, and stands right now. It stays among the unit's faults as that. */
export function withdrawFault(turn: Turn, actor: Actor, input: z.output<typeof withdrawFaultIn>): { tag: string } {
  return once(turn, input.key, { withdrawFault: input }, () => {
    const state = loadUnit(turn, input.tag)
    const { unit } = state
    const row = store.findOpenRow(turn.db, unit.id)
    if (!row) throw Refusal.at('form', `No fault of ${unit.tag} is open.`, 'conflict')
    if (!mayBeSlip(row, standsNow(state), wasChanged(state, row.openedAt))) {
      const words = `Something still fails, or was changed since ${row.checkKey ?? 'it'} was read. Correct the reading, or close the fault with what it was.`
      throw Refusal.at('form', words, 'conflict')
    }
    const found = { cause: 'none' as const, block: null, designator: null, changed: SLIP_WORDS, minutes: 0 }
    store.closeRow(turn.db, row.id, { ...found, closedAt: turn.now, closedByPersonId: actor.personId, seen: {} })
    const body = { unitId: unit.id, tag: unit.tag, symptom: row.symptom }
    turn.record({ kind: 'fault.withdrawn', subject: `unit:${unit.tag}`, body })
    return { tag: unit.tag }
  })
}

const SLIP_WORDS = 'A typing slip: the reading was put right, and nothing was wrong with the machine'

export const countOpenFaults = (sight: Sight): number => store.countOpenRows(sight.db)

export const wasChanged = ({ reworks }: Pick<UnitState, 'reworks'>, openedAt: number): boolean =>
  reworks.some(({ at, isLateFitting }) => at >= openedAt && !isLateFitting)

/** Sets the catch of a check for one block, or goes back to the usual. */
export function setCatch(turn: Turn, actor: Actor, { designId, check, block, percent }: z.output<typeof setCatchIn>): { designId: string } {
  const design = getDesign(turn, designId)
  if (!design.checks.some(({ key }) => key === check)) throw Refusal.at('check', `${design.name} has no check ${check}.`, 'not-found')
  if (!design.blocks.includes(block)) throw Refusal.at('block', `${design.name} has no block "${block}".`, 'not-found')
  const at = { designId, checkKey: check, block }
  if (percent === '') store.dropCatch(turn.db, at)
  else store.putCatch(turn.db, { ...at, share: Number(percent) / 100, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'design.catch-set', subject: `design:${design.key}`, body: { designId, check, block, percent } })
  return { designId }
}

/** A check may be taken out of its order only while a fault of the unit is open. */
export function mustBeSearching(turn: Turn, tag: string): void {
  const unit = getUnit(turn, tag)
  if (!store.findOpenRow(turn.db, unit.id)) {
    throw Refusal.at(
      'check',
      `No fault of ${unit.tag} is open, so there is nothing to search for. Take its checks in order.`,
      'gate-closed',
    )
  }
}

function open(turn: Turn, actor: Actor, unit: UnitState['unit'], checkKey: string | null, symptom: string): void {
  const closed = { closedAt: null, closedByPersonId: null, cause: null, block: null, designator: null, changed: null, minutes: null }
  const row = { id: turn.dice.id(), unitId: unit.id, checkKey, symptom, openedAt: turn.now, openedByPersonId: actor.personId }
  store.insertFault(turn.db, { ...row, ...closed, seen: {} })
  turn.record({ kind: 'fault.opened', subject: `unit:${unit.tag}`, body: { unitId: unit.id, tag: unit.tag, check: checkKey, symptom } })
}

function symptomOf(state: UnitState, key: string): string {
  const title = state.design.checks.find((one) => one.key === key)?.title ?? ''
  return symptomWords(standsNow(state).find(({ check }) => check === key) ?? { check: key, title, entry: '' })
}

/** What had been read when the last change was made: the change takes away what it spoils, and that is what taught where to look. */
function seenBeforeMending({ design, readings, reworks, standing }: UnitState, row: store.FaultRow): Record<string, boolean> {
  const mended = reworks.filter(({ at, isLateFitting }) => at >= row.openedAt && !isLateFitting).at(-1)
  const before = <T extends { seq: number }>(rows: readonly T[]) => rows.filter(({ seq }) => mended === undefined || seq < mended.seq)
  const states = mended
    ? standingOf(design.checks, design.feeds, {
        readings: before(readings).map(takenOf),
        changes: before(reworks).map(changeOf),
        releases: [],
      }).states
    : standing.states
  const seen = Object.fromEntries(seenIn(states, design.checks).map(({ check, failed }) => [check, failed]))
  return row.checkKey === null ? seen : { ...seen, [row.checkKey]: true }
}
