import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Turn } from '#runtime/queue/turn'
import { getPart, standsInFor } from '#stock/catalogue/part.service'
import { acceptSubstitute } from '../designs/substitutes.service'
import * as store from './bench.store'
import { mustBeEmpty, mustSuit, type Source, sourceOf } from './may-go-in.service'
import { endSoak } from './soak.service'
import { undoneBy } from './undo.rules'
import { blocksOf, loadUnit, type UnitState, unitInHand } from './unit-state.service'
import type { correctFittingIn, fitIn } from './units.contract'

export interface Fitted {
  designators: string[]
  batch: string
  /** Checks whose readings this late fitting undid. */
  undone: string[]
}

/**
 * Fits pieces of one batch, or the one piece that carries a tag, at positions that are empty. The first
 * fitting of a position after the check its parts list names undoes nothing; one that comes late does,
 * and asks first.
 */
export function fitPieces(turn: Turn, actor: Actor, input: z.output<typeof fitIn>): Fitted {
  return once(turn, input.key, { fit: input }, () => {
    const state = unitInHand(turn, input)
    const designators = [...new Set(input.designators.map((one) => one.toUpperCase()))]
    for (const designator of designators) mustBeEmpty(state, designator)
    const source = sourceOf(turn, input, { batch: 'batchId', piece: 'pieceTag' })
    if (input.confirmInstead) acceptStandIn(turn, actor, state, designators, source)
    mustSuit(turn, state, designators, source, { mayAsk: true })
    const spoils = spoiltByLateFitting(state, designators, input.iron)
    if (spoils.length > 0 && !input.confirmUndo) {
      const words = `Readings were taken since. Fitting ${designators.join(', ')} now undoes ${spoils.join(', ')}. Tick that you agree to that first.`
      throw Refusal.at('confirmUndo', words, 'conflict')
    }
    const reworkId = spoils.length > 0 ? recordLate(turn, actor, state, designators, input.iron) : null
    if (reworkId !== null) endSoak(turn, state.unit, `${designators.join(', ')} fitted late`)
    const kind = reworkId === null ? 'first' : 'late'
    putIn(turn, actor, state, { designators, source, iron: input.iron, kind, reworkId })
    return { designators, batch: source.batch.code, undone: spoils }
  })
}

/** The lines of these positions accept the part from now on, with the difference as the reason. */
function acceptStandIn(turn: Turn, actor: Actor, state: UnitState, designators: readonly string[], { batch }: Source): void {
  const positions = state.design.positions.filter(({ designator }) => designators.includes(designator))
  for (const { lineId, partId } of positions) {
    const difference = partId === batch.partId ? null : standsInFor(getPart(turn, partId), batch.part)
    if (difference !== null && actor.role !== 'maker') {
      throw Refusal.at('confirmInstead', 'What a line accepts in place of its own part is the maker’s to say. Ask them.', 'not-yours-to-do')
    }
    if (difference !== null)
      acceptSubstitute(turn, actor, { lineId, partId: batch.partId, reason: `Stands in by its figures: ${difference}` })
  }
}

/** What was typed for a position was not what was soldered: the record is put right, and undoes nothing. */
export function correctFitting(turn: Turn, actor: Actor, input: z.output<typeof correctFittingIn>): Fitted {
  return once(turn, input.key, { correctFitting: input }, () => {
    const state = unitInHand(turn, input)
    const row = fittedAt(state, input.designator)
    const source = sourceOf(turn, input, { batch: 'batchId', piece: 'pieceTag' })
    store.takeOut(turn.db, row.id, {
      outAt: turn.now,
      outByPersonId: actor.personId,
      outReason: `mistyped: ${input.reason}`,
      outReworkId: null,
    })
    mustSuit(turn, loadUnit(turn, input.tag), [input.designator], source)
    putIn(turn, actor, state, { designators: [input.designator], source, iron: row.iron, kind: 'correction', reworkId: row.reworkId })
    return { designators: [input.designator], batch: source.batch.code, undone: [] }
  })
}

function fittedAt(state: UnitState, designator: string): store.FittingRow {
  const row = state.fitted.get(designator)
  if (!row) throw Refusal.at('designator', `Nothing is fitted at ${designator}.`, 'not-found')
  return row
}

/** Current readings that the fitting of positions named for no check would spoil. */
export function spoiltByLateFitting(state: UnitState, designators: readonly string[], iron: boolean): string[] {
  const late = state.design.positions.filter(
    (one) => designators.includes(one.designator) && (one.fittedAfter === null || wasFittedBefore(state, one.designator)),
  )
  if (late.length === 0) return []
  const blocks = [...new Set(late.flatMap((one) => one.blocks))]
  const standing = (key: string) => state.standing.states.get(key)?.current != null
  return undoneBy({ blocks, iron }, state.design.checks, state.design.feeds)
    .map(({ check }) => check)
    .filter(standing)
}

const wasFittedBefore = ({ fittings }: UnitState, designator: string) =>
  fittings.some((row) => row.designator === designator && row.outReworkId !== null)

function recordLate(turn: Turn, actor: Actor, state: UnitState, designators: string[], iron: boolean): string {
  const id = turn.dice.id()
  store.insertRework(turn.db, {
    id,
    unitId: state.unit.id,
    seq: store.nextSeq(turn.db, state.unit.id),
    at: turn.now,
    byPersonId: actor.personId,
    failedCheck: null,
    fault: 'Positions were still empty',
    changed: `${designators.join(', ')} fitted late`,
    designators,
    blocks: blocksOf(state, designators),
    iron,
    isLateFitting: true,
  })
  return id
}

interface PutIn {
  designators: readonly string[]
  source: Source
  iron: boolean
  kind: store.FittingRow['kind']
  reworkId: string | null
}

export function putIn(turn: Turn, actor: Actor, { unit }: UnitState, { designators, source, iron, kind, reworkId }: PutIn): void {
  const common = { unitId: unit.id, batchId: source.batch.id, pieceId: source.piece?.id ?? null, iron, kind, reworkId }
  const out = { outAt: null, outByPersonId: null, outReason: null, outReworkId: null }
  for (const designator of designators) {
    store.insertFitting(turn.db, { id: turn.dice.id(), designator, at: turn.now, byPersonId: actor.personId, ...common, ...out })
  }
  const body = { unitId: unit.id, tag: unit.tag, designators, batch: source.batch.code, piece: source.piece?.tag ?? null, how: kind }
  turn.record({ kind: 'unit.fitted', subject: `unit:${unit.tag}`, body })
}
