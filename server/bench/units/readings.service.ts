import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Turn } from '#runtime/queue/turn'
import { batchesById } from '#stock/shelf/batch.service'
import type { Check } from '../designs/design.contract'
import * as store from './bench.store'
import { hasPassed } from './current.rules'
import { asItIs, getInstrument } from './instruments.service'
import { nextPermitted, whyWait, whyWaitSearching } from './permitted.rules'
import { judgeReading } from './reading.rules'
import { endSoak, soakSeen } from './soak.service'
import { checkOf, type UnitState, unitInHand, withReading, withRelease } from './unit-state.service'
import type { correctionIn, readingIn, releaseIn } from './units.contract'
import { cannotDecide, type Verdict } from './verdict.rules'

export interface ReadingTaken {
  readingId: string
  check: string
  entry: string
  verdict: Verdict
  /** The doubt is as wide as the tolerance: the instrument cannot decide this check. */
  cannotDecide: boolean
  /** The check to do next, or to release. */
  next: string | null
}

/**
 * Keeps one reading of one check, once it may be taken, with everything that is needed to believe it later. While a
 * fault is searched only safety binds; a reading whose other needs were waived is marked so for ever.
 */
export function takeReading(turn: Turn, actor: Actor, input: z.output<typeof readingIn>, { isSearching = false } = {}): ReadingTaken {
  return once(turn, input.key, { reading: input }, () => {
    const state = unitInHand(turn, input)
    const check = checkOf(state, input.check)
    const wait = whyWait(check, state.bench)
    const bars = isSearching ? whyWaitSearching(check, state.bench) : wait
    if (bars) throw Refusal.at('check', bars.why, 'gate-closed')
    return keep(turn, actor, state, check, input, { correction: null, isWhileSearching: wait !== null })
  })
}

/** A mistyped reading put right: the later one supersedes, the earlier stays in the record with the reason. */
export function correctReading(turn: Turn, actor: Actor, { reason, ...input }: z.output<typeof correctionIn>): ReadingTaken {
  return once(turn, input.key, { correctReading: input, reason }, () => {
    const state = unitInHand(turn, input)
    const check = checkOf(state, input.check)
    const stands = state.standing.states.get(check.key)
    if (stands?.current == null) {
      throw Refusal.at('check', `${check.key} has no current reading, so there is nothing to correct.`, 'conflict')
    }
    return keep(turn, actor, state, check, input, { correction: reason, isWhileSearching: stands.isWhileSearching })
  })
}

/** Lets the work go on past a hold point, by name, once its check has passed. */
export function releaseHold(turn: Turn, actor: Actor, input: z.output<typeof releaseIn>): { check: string; next: string | null } {
  return once(turn, input.key, { release: input }, () => {
    const state = unitInHand(turn, input)
    const check = checkOf(state, input.check)
    if (!check.isHold) throw Refusal.at('check', `${check.key} is not a hold point.`)
    if (!hasPassed(state.bench.states.get(check.key)))
      throw Refusal.at('check', `${check.key} has no current pass. Take it first.`, 'gate-closed')
    if (state.bench.states.get(check.key)?.releasedBy != null) return { check: check.key, next: nextOf(state) }
    if (check.fourEyes && readersOf(state, check).includes(actor.personId)) {
      const words = `${check.key} asks for four eyes: you took its reading, so somebody else has to release it.`
      throw Refusal.at('name', words, 'gate-closed')
    }
    const seq = store.nextSeq(turn.db, state.unit.id)
    const row = {
      id: turn.dice.id(),
      unitId: state.unit.id,
      seq,
      checkKey: check.key,
      at: turn.now,
      byPersonId: actor.personId,
      name: input.name,
    }
    store.insertRelease(turn.db, row)
    const body = { unitId: state.unit.id, tag: state.unit.tag, check: check.key, name: input.name }
    turn.record({ kind: 'unit.hold-released', subject: `unit:${state.unit.tag}`, body })
    return { check: check.key, next: nextOf(withRelease(state, row)) }
  })
}

function keep(
  turn: Turn,
  actor: Actor,
  state: UnitState,
  check: Check,
  input: z.output<typeof readingIn>,
  { correction, isWhileSearching }: { correction: string | null; isWhileSearching: boolean },
): ReadingTaken {
  const instrument = input.instrumentId ? getInstrument(turn, input.instrumentId) : null
  const { entry, confirmThousand, confirmOdd, further, hours, starts, isStated } = input
  const seen =
    check.kind === 'soak' ? soakSeen(turn, state.unit.id, check.key, correction === null ? null : firstTakenAt(state, check)) : null
  const rule = state.design.decisionRule
  const answer = judgeReading({
    check,
    rule,
    entry,
    instrument,
    confirmThousand,
    confirmOdd,
    further,
    hours,
    starts,
    soakSeen: seen,
    isStated,
  })
  if (!answer.ok) throw Refusal.at(answer.field, answer.words)
  const { judged } = answer
  const { nominal, lower, upper, decimals, unit } = check
  const row: store.ReadingRow = {
    id: turn.dice.id(),
    unitId: state.unit.id,
    seq: store.nextSeq(turn.db, state.unit.id),
    checkKey: check.key,
    at: turn.now,
    byPersonId: actor.personId,
    ...judged,
    unit,
    nominal,
    lower,
    upper,
    decimals,
    rule,
    instrumentId: instrument?.id ?? null,
    instrumentWords: instrument && `${instrument.name}, ${instrument.accuracy}`,
    instrumentThen: instrument && asItIs(instrument),
    instrumentOverdue: instrument?.isOverdue ?? false,
    ambient: input.ambient,
    note: input.note,
    departure: input.departure ?? '',
    further: further ?? '',
    photoSha: null,
    correction,
    batches: batchesIn(turn, state, check),
    revision: state.design.revision,
    whileSearching: isWhileSearching,
  }
  store.insertReading(turn.db, row)
  if (check.kind === 'soak' && correction === null) endSoak(turn, state.unit, `Entered: ${row.entry}`)
  const body = {
    unitId: state.unit.id,
    tag: state.unit.tag,
    check: check.key,
    entry: row.entry,
    verdict: row.verdict,
    correction,
    isWhileSearching,
  }
  turn.record({ kind: 'unit.reading-taken', subject: `unit:${state.unit.tag}`, body })
  return {
    readingId: row.id,
    check: check.key,
    entry: row.entry,
    verdict: row.verdict,
    cannotDecide: row.expandedUncertainty !== null && cannotDecide(check, row.expandedUncertainty),
    next: nextOf(withReading(state, row)),
  }
}

/** When the reading of this check that stands was taken at the bench, however often it was corrected since. */
function firstTakenAt({ readings, standing }: UnitState, check: Check): number | null {
  const row = readings.find(({ id }) => id === standing.states.get(check.key)?.current)
  return row ? takenFirst(row, readings).at : null
}

/** Of a reading that was corrected, the one that was taken at the bench; a corrected figure is no new measurement. */
export function takenFirst(row: store.ReadingRow, readings: readonly store.ReadingRow[]): store.ReadingRow {
  if (row.correction === null) return row
  const before = readings.findLast(({ checkKey, seq }) => checkKey === row.checkKey && seq < row.seq)
  return before ? takenFirst(before, readings) : row
}

/** Whoever took the reading of this check that stands, and whoever put it right since. */
export function readersOf({ readings, standing }: Pick<UnitState, 'readings' | 'standing'>, { key }: Pick<Check, 'key'>): string[] {
  const row = readings.find(({ id }) => id === standing.states.get(key)?.current)
  if (!row) return []
  const first = takenFirst(row, readings).seq
  const own = readings.filter(({ checkKey, seq }) => checkKey === key && seq >= first && seq <= row.seq)
  return [...new Set(own.map(({ byPersonId }) => byPersonId))]
}

const nextOf = ({ bench }: UnitState) => nextPermitted(bench)?.check ?? null

/** The batch in each position of the blocks that the check exercises, as it was then. */
function batchesIn(turn: Turn, { design, fitted }: UnitState, check: Check): Record<string, string> {
  const rows = design.positions
    .filter(({ blocks }) => blocks.some((block) => check.exercises.includes(block)))
    .flatMap(({ designator }) => fitted.get(designator) ?? [])
  const codes = new Map(
    batchesById(
      turn,
      rows.map(({ batchId }) => batchId),
    ).map(({ id, code }) => [id, code]),
  )
  return Object.fromEntries(rows.map(({ designator, batchId }) => [designator, codes.get(batchId) ?? '']))
}
