import type { z } from 'zod'
import { mayGoTo } from '../donors/gift.rules'
import { Refusal } from '../kernel/refusal'
import { getPart } from '../parts/part.service'
import { countsAsGood } from '../parts/piece.rules'
import { getPieceByTag } from '../parts/piece.service'
import { type BatchCard, batchCard } from '../parts/stock.service'
import { type Actor, once, type Sight, type Turn } from '../runtime/turn'
import * as store from './bench.store'
import { hasPassed } from './current.rules'
import { undoneBy } from './undo.rules'
import { blocksOf, loadUnit, type UnitState, unitInHand } from './unit-state.service'
import type { correctFittingIn, fitIn } from './units.contract'

type PieceRow = ReturnType<typeof getPieceByTag>

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
    mustSuit(turn, state, designators, source)
    const spoils = spoiltByLateFitting(state, designators, input.iron)
    if (spoils.length > 0 && !input.confirmUndo) {
      const words = `Readings were taken since. Fitting ${designators.join(', ')} now undoes ${spoils.join(', ')}. Say yes to that first.`
      throw Refusal.at('confirmUndo', words, 'conflict')
    }
    const reworkId = spoils.length > 0 ? recordLate(turn, actor, state, designators, input.iron) : null
    const kind = reworkId === null ? 'first' : 'late'
    putIn(turn, actor, state, { designators, source, iron: input.iron, kind, reworkId })
    return { designators, batch: source.batch.code, undone: spoils }
  })
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

export interface Source {
  batch: BatchCard
  piece: PieceRow | null
}

/** The batch or the tagged piece that is meant; refuses at the form's own field. */
export function sourceOf(
  sight: Sight,
  from: { batchId?: string | undefined; pieceTag?: string | undefined },
  field: { batch: string; piece: string },
): Source {
  if (from.pieceTag) {
    const piece = getPieceByTag(sight, from.pieceTag, field.piece)
    return { piece, batch: batchCard(sight, piece.batchId) }
  }
  if (!from.batchId) throw Refusal.at(field.batch, 'Choose the batch that the pieces come from, or write the tag of one piece.')
  return { piece: null, batch: batchCard(sight, from.batchId) }
}

/** Refuses a wrong part, too few good pieces, a quarantined batch, a gift kept for another unit, an unread programmed chip. */
export function mustSuit(
  sight: Sight,
  state: UnitState,
  designators: readonly string[],
  { batch, piece }: Source,
  { field = 'batchId', isSwap = false }: { field?: string; isSwap?: boolean } = {},
): void {
  const at = piece && !isSwap ? 'pieceTag' : field
  if (batch.state === 'quarantined')
    throw Refusal.at(at, `Batch ${batch.code} is quarantined: ${batch.reason ?? 'suspect'}. Choose another.`, 'on-hold')
  if (!mayGoTo(batch.restriction, { unitId: state.unit.id, designId: state.design.id })) {
    throw Refusal.at(at, `Batch ${batch.code} was given for another machine only. Choose another.`, 'conflict')
  }
  for (const designator of designators) mustFit(sight, state, designator, { batch, piece }, { at, isSwap })
  if (piece === null) {
    if (batch.inHand < designators.length) {
      const words = `Batch ${batch.code} has ${batch.inHand} good left, and ${designators.length} are needed. Choose fewer positions, or another batch.`
      throw Refusal.at(at, words, 'conflict')
    }
    return
  }
  if (designators.length > 1) throw Refusal.at('designators', `${piece.tag} is one piece and fits one position.`)
  const elsewhere = store.unitWithPiece(sight.db, piece.id)
  if (elsewhere)
    throw Refusal.at(at, `${piece.tag} is in ${elsewhere.tag} at ${elsewhere.designator}. Take it out there first.`, 'conflict')
  if (!countsAsGood(piece.verdict, batch.part.programmed)) {
    throw Refusal.at(at, `${piece.tag} is ${piece.verdict}. Only good pieces are fitted; inspect it, or choose another.`, 'conflict')
  }
}

function mustFit(
  sight: Sight,
  state: UnitState,
  designator: string,
  { batch, piece }: Source,
  { at, isSwap }: { at: string; isSwap: boolean },
): void {
  const position = state.design.positions.find((one) => one.designator === designator)
  if (!position) throw Refusal.at('designators', `${state.design.name} has no position ${designator}.`, 'not-found')
  if (batch.partId !== position.partId) {
    const wanted = getPart(sight, position.partId)
    throw Refusal.at(at, `${designator} takes ${wanted.words}; ${batch.code} is ${batch.part.words}.`, 'conflict')
  }
  const { fittedAfter } = position
  if (fittedAfter !== null && !hasPassed(state.bench.states.get(fittedAfter))) {
    throw Refusal.at('designators', `${designator} is fitted after ${fittedAfter} has passed, and it has not.`, 'too-early')
  }
  // The match checks of a unit spoke of the chip that was there before: they say nothing of the one that is swapped in.
  if (position.isProgrammed && !isImageRead(batch, piece) && (isSwap || !isImageMatched(state, position.blocks))) {
    throw Refusal.at(at, `${designator} is programmed: fit a piece whose image was read and is the right one.`, 'conflict')
  }
}

const isImageRead = ({ part }: BatchCard, piece: PieceRow | null): boolean =>
  part.imageSha256 !== null && piece?.imageSha256 === part.imageSha256

function isImageMatched({ design, bench }: UnitState, blocks: readonly string[]): boolean {
  const matches = design.checks.filter((check) => check.kind === 'match' && check.exercises.some((block) => blocks.includes(block)))
  return matches.length > 0 && matches.every((check) => hasPassed(bench.states.get(check.key)))
}

export function fittedAt(state: UnitState, designator: string): store.FittingRow {
  const row = state.fitted.get(designator)
  if (!row) throw Refusal.at('designator', `Nothing is fitted at ${designator}.`, 'not-found')
  return row
}

function mustBeEmpty({ fitted, design }: UnitState, designator: string): void {
  if (!design.positions.some((one) => one.designator === designator)) {
    throw Refusal.at('designators', `${design.name} has no position ${designator}.`, 'not-found')
  }
  if (fitted.has(designator))
    throw Refusal.at('designators', `${designator} holds something already. To swap it, enter a rework.`, 'conflict')
}

/** Current readings that the fitting of positions named for no check would spoil. */
function spoiltByLateFitting(state: UnitState, designators: readonly string[], iron: boolean): string[] {
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
