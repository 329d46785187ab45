import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getPiece, inspectPiece } from '#stock/shelf/piece.service'
import { batchCard, markBad } from '#stock/shelf/stock.service'
import * as store from './bench.store'
import { putIn } from './fit.service'
import { mustSuit, sourceOf } from './may-go-in.service'
import { endSoak } from './soak.service'
import { type Undone, undoneBy } from './undo.rules'
import { blocksOf, loadUnit, type UnitState, unitInHand } from './unit-state.service'
import type { changeIn, previewReworkIn, reworkIn } from './units.contract'

export interface ReworkPreview {
  /** Readings that stand now and would not any more, with the reason. */
  undone: (Undone & { title: string })[]
  /** Checks that it would spoil if they had a reading: nothing is lost there. */
  untaken: string[]
  blocks: string[]
}

export interface Reworked {
  reworkId: string
  unitId: string
  undone: string[]
  words: string
}

type Change = z.output<typeof changeIn>

/** What a rework would undo, before anything is stored. */
export function previewRework(sight: Sight, input: z.output<typeof previewReworkIn>): ReworkPreview {
  const state = loadUnit(sight, input.tag)
  return whatItUndoes(state, input)
}

/** Enters what was found and what was changed; parts come out and go in; readings that it spoils are lost from now on. */
export function reworkUnit(turn: Turn, actor: Actor, input: z.output<typeof reworkIn>): Reworked {
  return once(turn, input.key, { rework: input }, () => {
    const state = unitInHand(turn, input)
    const { undone, blocks } = whatItUndoes(state, input)
    const designators = input.changes.map(({ designator }) => designator)
    const id = turn.dice.id()
    store.insertRework(turn.db, {
      id,
      unitId: state.unit.id,
      seq: store.nextSeq(turn.db, state.unit.id),
      at: turn.now,
      byPersonId: actor.personId,
      failedCheck: input.failedCheck ?? null,
      fault: input.fault,
      changed: input.changed,
      designators,
      blocks,
      iron: input.iron,
      isLateFitting: false,
    })
    for (const [index, change] of input.changes.entries()) makeChange(turn, actor, state, change, { id, iron: input.iron, index })
    endSoak(turn, state.unit, `Reworked: ${input.changed}`)
    const keys = undone.map(({ check }) => check)
    const words = `Reworked: ${input.fault}. ${input.changed}.`
    const body = { unitId: state.unit.id, tag: state.unit.tag, fault: input.fault, changed: input.changed, designators, undone: keys }
    turn.record({ kind: 'unit.reworked', subject: `unit:${state.unit.tag}`, body })
    return { reworkId: id, unitId: state.unit.id, undone: keys, words }
  })
}

function whatItUndoes(
  state: UnitState,
  { changes, blocks: named, iron }: Pick<z.output<typeof reworkIn>, 'changes' | 'blocks' | 'iron'>,
): ReworkPreview {
  const { design, standing } = state
  for (const [index, { designator }] of changes.entries()) {
    if (!design.positions.some((one) => one.designator === designator)) {
      throw Refusal.at(`changes.${index}.designator`, `${design.name} has no position ${designator}.`, 'not-found')
    }
  }
  const unknown = named.find((block) => !design.blocks.includes(block))
  if (unknown !== undefined) throw Refusal.at('blocks', `${design.name} has no block "${unknown}".`, 'not-found')
  if (changes.length === 0 && named.length === 0) throw Refusal.at('changes', 'Name at least one position or block you touched.')
  const designators = changes.map(({ designator }) => designator)
  if (new Set(designators).size < designators.length) throw Refusal.at('changes', 'A position is named twice. Enter each once.')
  const blocks = [...new Set([...blocksOf(state, designators), ...named])]
  const spoilt = undoneBy({ blocks, iron }, design.checks, design.feeds)
  const stands = (key: string) => standing.states.get(key)?.current != null
  const titles = new Map(design.checks.map(({ key, title }) => [key, title]))
  return {
    undone: spoilt.filter(({ check }) => stands(check)).map((one) => ({ ...one, title: titles.get(one.check) ?? '' })),
    untaken: spoilt.filter(({ check }) => !stands(check)).map(({ check }) => check),
    blocks,
  }
}

function makeChange(
  turn: Turn,
  actor: Actor,
  state: UnitState,
  change: Change,
  { id, iron, index }: { id: string; iron: boolean; index: number },
): void {
  const { designator, outReason, inBatchId, inPieceTag } = change
  const at = (name: string) => `changes.${index}.${name}`
  const before = state.fitted.get(designator)
  const goesIn = Boolean(inBatchId || inPieceTag)
  if (goesIn && before && outReason === '') throw Refusal.at(at('outReason'), `Say why what is at ${designator} comes out.`)
  if (outReason !== '' && !before)
    throw Refusal.at(at('designator'), `Nothing is fitted at ${designator}, so nothing can come out.`, 'conflict')
  if (before && outReason !== '') {
    store.takeOut(turn.db, before.id, { outAt: turn.now, outByPersonId: actor.personId, outReason, outReworkId: id })
    if (change.outIsBad) throwAway(turn, actor, state, before, outReason)
  }
  if (!goesIn) return
  const source = sourceOf(turn, { batchId: inBatchId, pieceTag: inPieceTag }, { batch: at('inBatchId'), piece: at('inPieceTag') })
  mustSuit(turn, state, [designator], source, { field: at(source.piece ? 'inPieceTag' : 'inBatchId'), isSwap: true })
  putIn(turn, actor, state, { designators: [designator], source, iron, kind: 'rework', reworkId: id })
}

/** What came out bad must not count as in hand again. */
function throwAway(
  turn: Turn,
  actor: Actor,
  { unit }: UnitState,
  { batchId, pieceId, designator }: store.FittingRow,
  reason: string,
): void {
  const where = `taken out of ${unit.tag} at ${designator}`
  if (pieceId === null) {
    const { bad } = batchCard(turn, batchId)
    markBad(turn, actor, { batchId, bad: bad + 1, reason: `${where}: ${reason}` })
    return
  }
  const piece = getPiece(turn, pieceId)
  inspectPiece(turn, actor, { pieceId: piece.id, reader: where, verdict: 'dead', symptom: reason, imageSha256: '', idcode: '' })
}
