import type { z } from 'zod'
import { hasGoodCheckCharacter } from '#kernel/ids'
import { Refusal } from '#kernel/refusal'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getPart } from '../catalogue/part.service'
import { findBatchRow } from './batch.store'
import { pieceTag, verdictAfter } from './piece.rules'
import {
  deletePiece,
  findPieceRow,
  findPieceRowByTag,
  type InspectionRow,
  insertInspection,
  insertPiece,
  inspectionRows,
  nextPieceNumber,
  type PieceRow,
  pieceRowsOf,
  updatePiece,
} from './piece.store'
import { whyNotSo } from './programmed.rules'
import type { inspectionIn } from './shelf.contract'
import { nearTags, slipWords, tagOf } from './tag.rules'

export type { InspectionRow, PieceRow } from './piece.store'

/** Tags for pieces that nobody has looked at yet. */
export function makePieces(turn: Turn, batchId: string, count: number): PieceRow[] {
  const first = nextPieceNumber(turn.db)
  return Array.from({ length: count }, (_, index) => {
    const row: PieceRow = {
      id: turn.dice.id(),
      number: first + index,
      tag: pieceTag(first + index),
      batchId,
      verdict: 'not inspected',
      symptom: '',
      imageSha256: null,
      idcode: null,
      at: turn.now,
    }
    insertPiece(turn.db, row)
    return row
  })
}

/** Takes back the last `count` tags of pieces that nobody has looked at; false, and nothing done, where there are not so many. */
export function removeUntouched(turn: Turn, loose: readonly PieceRow[], count: number): boolean {
  const untouched = loose.filter((piece) => piece.verdict === 'not inspected')
  if (untouched.length < count) return false
  for (const piece of untouched.slice(untouched.length - count)) deletePiece(turn.db, piece.id)
  return true
}

/**
 * What one reader said of a piece, kept as said. The piece's verdict follows from all that was said of it:
 * what one programmer refuses is "reader uncertain" until a second reader agrees.
 */
export function inspectPiece(turn: Turn, actor: Actor, input: z.output<typeof inspectionIn>): PieceRow {
  const piece = getPiece(turn, input.pieceId)
  const looks = inspectionRows(turn.db, [piece.id])
  if (input.verdict === 'good and programmed' && input.imageSha256 === '') {
    throw Refusal.at('imageSha256', 'Write the SHA-256 of the image that was read back, or choose "unknown image".')
  }
  if (input.photoSha) needPhotograph(turn, input.photoSha, 'photoSha')
  const part = getPart(turn, findBatchRow(turn.db, piece.batchId)?.partId ?? '')
  const mix = whyNotSo({ tag: piece.tag, verdict: piece.verdict, part }, { ...input, confirmMix: input.confirmMix === true })
  if (mix) throw Refusal.at(mix.field, mix.words, 'conflict')
  const look: InspectionRow = {
    id: turn.dice.id(),
    pieceId: piece.id,
    seq: looks.length + 1,
    reader: input.reader,
    verdict: input.verdict,
    symptom: input.symptom,
    imageSha256: input.imageSha256 || null,
    idcode: input.idcode || null,
    photoSha: input.photoSha || null,
    at: turn.now,
    byPersonId: actor.personId,
  }
  insertInspection(turn.db, look)
  const verdict = verdictAfter([...looks, look], part.programmed)
  const idcode = look.idcode ?? piece.idcode
  updatePiece(turn.db, piece.id, { verdict, symptom: look.symptom, imageSha256: look.imageSha256, idcode })
  turn.record({
    kind: 'piece.inspected',
    subject: `piece:${piece.tag}`,
    body: { pieceId: piece.id, batchId: piece.batchId, said: look.verdict, verdict },
  })
  return getPiece(turn, piece.id)
}

export function getPiece(sight: Sight, pieceId: string): PieceRow {
  const row = findPieceRow(sight.db, pieceId)
  if (!row) throw new Refusal('not-found', 'There is no such piece.')
  return row
}

/** By its tag as typed or scanned. Refuses at `field` a tag whose check character is wrong, and says which tags are one slip away. */
export function getPieceByTag(sight: Sight, typed: string, field: string): PieceRow {
  const tag = tagOf(typed)
  if (!hasGoodCheckCharacter(tag))
    throw Refusal.at(
      field,
      slipWords(
        typed,
        nearTags(tag).filter((near) => findPieceRowByTag(sight.db, near)),
      ),
    )
  const row = findPieceRowByTag(sight.db, tag)
  if (!row) throw Refusal.at(field, `There is no piece ${tag}.`, 'not-found')
  return row
}

export const piecesOf = (sight: Sight, batchIds: readonly string[]): PieceRow[] => pieceRowsOf(sight.db, batchIds)
export const inspectionsOf = (sight: Sight, pieceIds: readonly string[]): InspectionRow[] => inspectionRows(sight.db, pieceIds)
