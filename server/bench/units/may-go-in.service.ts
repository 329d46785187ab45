import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { getPart, standsInFor } from '#stock/catalogue/part.service'
import { listWords, mayGoTo } from '#stock/donors/gift.rules'
import { countsAsGood } from '#stock/shelf/piece.rules'
import { getPieceByTag } from '#stock/shelf/piece.service'
import { type BatchCard, batchCard } from '#stock/shelf/stock.service'
import { substitutesOf } from '../designs/substitutes.service'
import * as store from './bench.store'
import { hasPassed } from './current.rules'
import type { UnitState } from './unit-state.service'

// What may go into a position, whether it is fitted first, late, in a rework, or as a correction.

type PieceRow = ReturnType<typeof getPieceByTag>

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
  if (!from.batchId) throw Refusal.at(field.batch, 'Choose the batch the pieces come from, or write the tag of one piece.')
  return { piece: null, batch: batchCard(sight, from.batchId) }
}

/** Refuses a wrong part, too few good pieces, a quarantined batch, a gift kept for another unit, an unread programmed chip. */
export function mustSuit(
  sight: Sight,
  state: UnitState,
  designators: readonly string[],
  { batch, piece }: Source,
  { field = 'batchId', isSwap = false, mayAsk = false }: { field?: string; isSwap?: boolean; mayAsk?: boolean } = {},
): void {
  const at = piece && !isSwap ? 'pieceTag' : field
  if (batch.state === 'quarantined')
    throw Refusal.at(at, `Batch ${batch.code} is quarantined: ${batch.reason ?? 'suspect'}. Choose another.`, 'on-hold')
  if (batch.isBarred) {
    const words = `Batch ${batch.code} has more bad ones than its own sampling plan allows. Test it to the last piece, waive it by name with a reason, or choose another.`
    throw Refusal.at(at, words, 'on-hold')
  }
  if (!mayGoTo(batch.restriction, { unitId: state.unit.id, designId: state.design.id })) {
    throw Refusal.at(at, `Batch ${batch.code} was given only for another machine. Choose another.`, 'conflict')
  }
  for (const designator of designators) mustFit(sight, state, designator, { batch, piece }, { at, isSwap, mayAsk })
  if (piece === null) {
    if (batch.inHand < designators.length) {
      const words = `Batch ${batch.code} has ${batch.inHand} good left, and ${designators.length} are needed. Choose fewer positions, or another batch.`
      throw Refusal.at(at, words, 'conflict')
    }
    return
  }
  if (designators.length > 1) throw Refusal.at('designators', `${piece.tag} is a single piece and fits only one position.`)
  const elsewhere = store.unitWithPiece(sight.db, piece.id)
  if (elsewhere)
    throw Refusal.at(at, `${piece.tag} is in ${elsewhere.tag} at ${elsewhere.designator}. Take it out there first.`, 'conflict')
  if (!countsAsGood(piece.verdict, batch.part.programmed)) {
    throw Refusal.at(at, `${piece.tag} is ${piece.verdict}. Only good pieces can be fitted; inspect it, or choose another.`, 'conflict')
  }
}

function mustFit(
  sight: Sight,
  state: UnitState,
  designator: string,
  { batch, piece }: Source,
  { at, isSwap, mayAsk }: { at: string; isSwap: boolean; mayAsk: boolean },
): void {
  const position = state.design.positions.find((one) => one.designator === designator)
  if (!position) throw Refusal.at('designators', `${state.design.name} has no position ${designator}.`, 'not-found')
  const instead = substitutesOf(sight, state.design.id).get(position.lineId) ?? []
  if (batch.partId !== position.partId && !instead.some(({ part }) => part.id === batch.partId)) {
    const own = getPart(sight, position.partId)
    const difference = standsInFor(own, batch.part)
    if (mayAsk && difference !== null) {
      const words = `${designator} takes ${own.words}; ${batch.code} is ${batch.part.words}. By its figures it may stand in: ${difference}. Say yes to that first.`
      throw Refusal.at('confirmInstead', words, 'conflict')
    }
    const wanted = listWords([own.words, ...instead.map(({ part }) => part.words)])
    throw Refusal.at(at, `${designator} takes ${wanted}; ${batch.code} is ${batch.part.words}.`, 'conflict')
  }
  const { fittedAfter } = position
  if (fittedAfter !== null && !hasPassed(state.bench.states.get(fittedAfter))) {
    throw Refusal.at('designators', `${designator} is fitted after ${fittedAfter} has passed, and it has not.`, 'too-early')
  }
  if (position.isProgrammed && piece?.verdict === 'good and blank') {
    throw Refusal.at(at, `${piece.tag} is blank. First program it, read it back and record that; or choose a programmed piece.`, 'conflict')
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

/** The check that a position waits for, if any, has passed. */
export const mayBeFitted = ({ bench }: UnitState, { fittedAfter }: { fittedAfter: string | null }): boolean =>
  fittedAfter === null || hasPassed(bench.states.get(fittedAfter))

export function mustBeEmpty({ fitted, design }: UnitState, designator: string): void {
  if (!design.positions.some((one) => one.designator === designator)) {
    throw Refusal.at('designators', `${design.name} has no position ${designator}.`, 'not-found')
  }
  if (fitted.has(designator))
    throw Refusal.at('designators', `${designator} already holds something. To swap it, enter a rework.`, 'conflict')
}
