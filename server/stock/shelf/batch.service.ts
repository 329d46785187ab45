import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { hasPieces } from '../catalogue/part.rules'
import { getPart } from '../catalogue/part.service'
import type { HowCounted } from '../donors/count-words.rules'
import { giveGiftPart } from '../donors/gift.service'
import {
  allBatchRows,
  type BatchChangeRow,
  type BatchRow,
  batchChangeRows,
  batchRows,
  batchRowsOfGifts,
  findBatchRow,
  findBatchRowByCode,
  insertBatch,
  insertBatchChange,
  nextBatchNumber,
  updateBatch,
} from './batch.store'
import { batchCode } from './piece.rules'
import { makePieces } from './piece.service'
import type { placeIn, purchaseIn } from './shelf.contract'

export type { BatchChangeRow, BatchRow } from './batch.store'

/** More tags than this at once are a slip of the pen; so many chips come in several bags. */
const MOST_PIECES = 200

interface NewBatch {
  partId: string
  from: { giftId: string } | { boughtFrom: string }
  quantity: number
  marking?: string
  dateCode?: string
  /** Of what came by a gift its gift says it. */
  howCounted?: HowCounted
  place?: string
  /** The form's field to blame for the quantity. */
  field?: string
}

/** A batch with its code, and a tag for each piece where pieces of its part are worth telling apart. */
export function makeBatch(turn: Turn, { partId, from, quantity, field = 'quantity', ...said }: NewBatch): BatchRow {
  const part = getPart(turn, partId)
  if (hasPieces(part) && quantity > MOST_PIECES) {
    throw Refusal.at(field, `Each ${part.words} gets a tag: log at most ${MOST_PIECES} in one batch.`)
  }
  const number = nextBatchNumber(turn.db)
  const row: BatchRow = {
    id: turn.dice.id(),
    number,
    code: batchCode(number),
    partId,
    giftId: 'giftId' in from ? from.giftId : null,
    boughtFrom: 'boughtFrom' in from ? from.boughtFrom : null,
    marking: said.marking ?? '',
    dateCode: said.dateCode ?? '',
    quantity,
    bad: 0,
    state: 'available',
    reason: null,
    at: turn.now,
    place: said.place ?? '',
    howCounted: said.howCounted ?? 'counted',
  }
  insertBatch(turn.db, row)
  if (hasPieces(part)) makePieces(turn, row.id, quantity)
  turn.record({ kind: 'batch.made', subject: `batch:${row.code}`, body: { batchId: row.id, code: row.code, partId, quantity } })
  return row
}

export const buyBatch = (turn: Turn, _actor: Actor, { boughtFrom, ...batch }: z.output<typeof purchaseIn>): BatchRow =>
  makeBatch(turn, { ...batch, from: { boughtFrom } })

export function getBatch(sight: Sight, batchId: string): BatchRow {
  const row = findBatchRow(sight.db, batchId)
  if (!row) throw new Refusal('not-found', 'There is no such batch.')
  return row
}

export const findBatchByCode = (sight: Sight, code: string): BatchRow | null => findBatchRowByCode(sight.db, code) ?? null
export const listBatches = (sight: Sight, partId?: string): BatchRow[] => allBatchRows(sight.db, partId)
export const batchesById = (sight: Sight, batchIds: readonly string[]): BatchRow[] => batchRows(sight.db, batchIds)
export const batchesOfGifts = (sight: Sight, giftIds: readonly string[]): BatchRow[] => batchRowsOfGifts(sight.db, giftIds)

export const batchChanges = (sight: Sight, batchIds: readonly string[]): BatchChangeRow[] => batchChangeRows(sight.db, batchIds)

/** What came by one gift line is told by another from now on: a parcel from nobody known was claimed by who had promised it. */
export function giveBatchesTo(turn: Turn, fromGiftId: string, toGiftId: string): void {
  for (const row of batchRowsOfGifts(turn.db, [fromGiftId])) updateBatch(turn.db, row.id, { giftId: toGiftId })
}

/** A batch, and the gift that it came by, lie under another part of the catalogue from now on. */
export function moveBatch(turn: Turn, row: BatchRow, partId: string, reason: string): void {
  updateBatch(turn.db, row.id, { partId })
  if (row.giftId !== null) giveGiftPart(turn, row.giftId, partId)
  const body = { batchId: row.id, code: row.code, was: row.partId, now: partId, reason }
  turn.record({ kind: 'batch.of-another-part', subject: `batch:${row.code}`, body })
}

/** Where a batch lies from now on. */
export function placeBatch(turn: Turn, _actor: Actor, { batchId, place }: z.output<typeof placeIn>): BatchRow {
  const row = getBatch(turn, batchId)
  updateBatch(turn.db, row.id, { place })
  if (row.place !== place)
    turn.record({ kind: 'batch.placed', subject: `batch:${row.code}`, body: { batchId, was: row.place, now: place } })
  return getBatch(turn, batchId)
}

/** What was guessed, or left for later, has been counted. */
export const noteBatchCounted = (turn: Turn, row: BatchRow): void => updateBatch(turn.db, row.id, { howCounted: 'counted' })

type BatchField = BatchChangeRow['what']

/** One thing changed in a batch, kept with what it was and why. */
export function changeBatch(turn: Turn, actor: Actor, row: BatchRow, what: BatchField, change: Partial<BatchRow>, reason: string): void {
  updateBatch(turn.db, row.id, change)
  const [was, now] = [String(row[what]), String(change[what])]
  insertBatchChange(turn.db, { id: turn.dice.id(), batchId: row.id, what, was, now, reason, at: turn.now, byPersonId: actor.personId })
  const kind = what === 'quantity' ? 'batch.recounted' : what === 'bad' ? 'batch.inspected' : `batch.${now}`
  turn.record({ kind, subject: `batch:${row.code}`, body: { batchId: row.id, code: row.code, was, now, reason } })
}
