import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { whyWait } from './permitted.rules'
import { isWithoutPower, type SoakFacts, type SoakNote, type SoakSeen, seenOf } from './soak.rules'
import * as store from './soak.store'
import { checkOf, unitInHand } from './unit-state.service'
import type { coldStartIn, soakNoteIn, startSoakIn, stopSoakIn } from './units.contract'

/** The soak that runs on a unit; null when none does. */
export function runningSoak(sight: Sight, unitId: string): SoakFacts | null {
  const row = store.findRunningSoak(sight.db, unitId)
  return row ? { check: row.checkKey, startedAt: row.startedAt, coldStarts: row.coldStarts, notes: row.notes } : null
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
    if (runningSoak(turn, state.unit.id)) throw Refusal.at('check', 'A soak is already running on this unit.', 'conflict')
    store.insertSoak(turn.db, {
      id: turn.dice.id(),
      unitId: state.unit.id,
      checkKey: check.key,
      startedAt: turn.now,
      byPersonId: actor.personId,
      coldStarts: [],
      endedAt: null,
      endedWhy: null,
      notes: [],
    })
    tell(turn, 'unit.soak-started', state.unit, { check: check.key })
    return { check: check.key }
  })
}

/** Notes that the machine was switched on from cold again. */
export function noteColdStart(turn: Turn, _actor: Actor, input: z.output<typeof coldStartIn>): { starts: number } {
  return once(turn, input.key, { coldStart: input }, () => {
    const { unit } = unitInHand(turn, input)
    const row = runningRow(turn, unit.id)
    const coldStarts = [...row.coldStarts, turn.now]
    const notes = isWithoutPower(row) ? [...row.notes, noteOf(turn, { power: 'on' })] : row.notes
    store.updateSoak(turn.db, row.id, { coldStarts, notes })
    tell(turn, 'unit.cold-started', unit, { check: row.checkKey, starts: coldStarts.length })
    return { starts: coldStarts.length }
  })
}

/** Notes what is seen while a soak runs: its power going and coming back, how warm it is, what it draws. */
export function noteInSoak(turn: Turn, _actor: Actor, input: z.output<typeof soakNoteIn>): { check: string } {
  return once(turn, input.key, { soakNote: input }, () => {
    const { unit } = unitInHand(turn, input)
    const row = runningRow(turn, unit.id)
    const { power = null, temperature, supply, note: words } = input
    if (power !== null && (power === 'off') === isWithoutPower(row)) {
      throw Refusal.at('power', power === 'off' ? 'It is noted as without power already.' : 'It is noted as having power.', 'conflict')
    }
    store.updateSoak(turn.db, row.id, { notes: [...row.notes, noteOf(turn, { power, temperature, supply, words })] })
    tell(turn, 'unit.soak-noted', unit, { check: row.checkKey, power })
    return { check: row.checkKey }
  })
}

/** Stops a soak that shall have no result: it was begun by mistake, or the machine is wanted for something else. */
export function stopSoak(turn: Turn, _actor: Actor, input: z.output<typeof stopSoakIn>): { check: string } {
  return once(turn, input.key, { stopSoak: input }, () => {
    const { unit } = unitInHand(turn, input)
    const { checkKey: check } = runningRow(turn, unit.id)
    endSoak(turn, unit, `Stopped without a result: ${input.reason}`)
    return { check }
  })
}

function runningRow(turn: Turn, unitId: string): store.SoakRow {
  const row = store.findRunningSoak(turn.db, unitId)
  if (!row) throw Refusal.at('form', 'No soak is running on this unit. Start it first.', 'conflict')
  return row
}

const noteOf = (turn: Turn, note: Partial<SoakNote>): SoakNote => ({
  at: turn.now,
  power: null,
  temperature: '',
  supply: '',
  words: '',
  ...note,
})

/** What the house saw of the soak that a reading enters: the one that runs now, or, of a correction, the one that it ended. */
export function soakSeen(sight: Sight, unitId: string, check: string, endedAt: number | null): SoakSeen | null {
  const run = soaksOf(sight, unitId).find((one) => one.checkKey === check && one.endedAt === endedAt)
  return run ? seenOf(run, endedAt ?? sight.now) : null
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
