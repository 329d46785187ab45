import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { whyWait } from './permitted.rules'
import type { SoakFacts } from './soak.rules'
import * as store from './soak.store'
import { checkOf, unitInHand } from './unit-state.service'
import type { coldStartIn, startSoakIn } from './units.contract'

/** The soak that runs on a unit; null when none does. */
export function runningSoak(sight: Sight, unitId: string): SoakFacts | null {
  const row = store.findRunningSoak(sight.db, unitId)
  return row ? { check: row.checkKey, startedAt: row.startedAt, coldStarts: row.coldStarts } : null
}

/** Every soak that ever ran on a unit under the house's own clock. */
export const soaksOf = (sight: Sight, unitId: string): store.SoakRow[] => store.soaksOfUnit(sight.db, unitId)

/** Switches a soak on: from now its hours are counted, until it is entered or the machine is changed. */
export function startSoak(turn: Turn, actor: Actor, input: z.output<typeof startSoakIn>): { check: string } {
  return once(turn, input.key, { startSoak: input }, () => {
    const state = unitInHand(turn, input)
    const check = checkOf(state, input.check)
    if (check.kind !== 'soak') throw Refusal.at('check', `${check.key} is not a soak.`)
    const wait = whyWait(check, state.bench)
    if (wait) throw Refusal.at('check', wait.why, 'gate-closed')
    if (runningSoak(turn, state.unit.id)) throw Refusal.at('check', 'A soak runs on this unit already.', 'conflict')
    store.insertSoak(turn.db, {
      id: turn.dice.id(),
      unitId: state.unit.id,
      checkKey: check.key,
      startedAt: turn.now,
      byPersonId: actor.personId,
      coldStarts: [],
      endedAt: null,
      endedWhy: null,
    })
    tell(turn, 'unit.soak-started', state.unit, { check: check.key })
    return { check: check.key }
  })
}

/** Notes that the machine was switched on from cold again. */
export function noteColdStart(turn: Turn, _actor: Actor, input: z.output<typeof coldStartIn>): { starts: number } {
  return once(turn, input.key, { coldStart: input }, () => {
    const { unit } = unitInHand(turn, input)
    const row = store.findRunningSoak(turn.db, unit.id)
    if (!row) throw Refusal.at('form', 'No soak runs on this unit. Start it first.', 'conflict')
    const coldStarts = [...row.coldStarts, turn.now]
    store.updateSoak(turn.db, row.id, { coldStarts })
    tell(turn, 'unit.cold-started', unit, { check: row.checkKey, starts: coldStarts.length })
    return { starts: coldStarts.length }
  })
}

/** Ends the soak that runs on a unit, if one does: it was entered, or what it ran on was changed. */
export function endSoak(turn: Turn, unit: { id: string; tag: string }, why: string): void {
  const row = store.findRunningSoak(turn.db, unit.id)
  if (!row) return
  store.updateSoak(turn.db, row.id, { endedAt: turn.now, endedWhy: why })
  tell(turn, 'unit.soak-ended', unit, { check: row.checkKey, why })
}

const tell = (turn: Turn, kind: string, { id, tag }: { id: string; tag: string }, body: Record<string, unknown>) =>
  turn.record({ kind, subject: `unit:${tag}`, body: { unitId: id, tag, ...body } })
