import { type Cell, csvFile, type SavedFile } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import { listParts } from '../catalogue/part.service'
import { listDonors } from '../donors/donor.service'
import { listBatches } from './batch.service'
import type { ShelfExport } from './export.contract'
import { piecesOf } from './piece.service'
import { batchCards } from './stock.service'

interface Table {
  head: string[]
  rows: Cell[][]
}

/** A list of the shelf as a table for the staff; nothing in it is run by a spreadsheet. */
export function exportShelf(sight: Sight, what: ShelfExport): SavedFile {
  const { head, rows } = TABLES[what](sight)
  return csvFile(`${what}-${toIso(sight.now).slice(0, 10)}.csv`, head, rows)
}

function partTable(sight: Sight): Table {
  const cards = batchCards(sight, listBatches(sight))
  const inHand = new Map<string, number>()
  const fitted = new Map<string, number>()
  for (const card of cards) {
    inHand.set(card.partId, (inHand.get(card.partId) ?? 0) + card.inHand)
    fitted.set(card.partId, (fitted.get(card.partId) ?? 0) + card.fitted)
  }
  return {
    head: ['kind', 'part', 'value', 'package', 'rating', 'programmed', 'socketed', 'hard to find', 'image', 'idcode', 'in hand', 'fitted'],
    rows: listParts(sight).map((part) => [
      part.kind,
      part.name,
      part.value,
      part.package,
      part.rating,
      part.programmed,
      part.socketed,
      part.hardToFind,
      part.imageSha256,
      part.idcode,
      inHand.get(part.id) ?? 0,
      fitted.get(part.id) ?? 0,
    ]),
  }
}

function batchTable(sight: Sight): Table {
  const names = new Map(listDonors(sight).map(({ id, name }) => [id, name]))
  return {
    head: ['batch', 'part', 'from', 'marking', 'date code', 'came', 'quantity', 'bad', 'fitted', 'in hand', 'state', 'reason'],
    rows: batchCards(sight, listBatches(sight)).map((card) => [
      card.code,
      card.part.words,
      card.donorId === null ? card.boughtFrom : (names.get(card.donorId) ?? ''),
      card.marking,
      card.dateCode,
      toIso(card.at),
      card.quantity,
      card.bad,
      card.fitted,
      card.inHand,
      card.state,
      card.reason,
    ]),
  }
}

function pieceTable(sight: Sight): Table {
  const cards = batchCards(sight, listBatches(sight))
  const cardOf = new Map(cards.map((card) => [card.id, card]))
  const where = new Map(
    cards.flatMap(({ fittedAt }) => fittedAt.map(({ pieceId, tag, designator }) => [pieceId, { tag, designator }] as const)),
  )
  const pieces = piecesOf(
    sight,
    cards.map(({ id }) => id),
  )
  return {
    head: ['piece', 'batch', 'part', 'verdict', 'symptom', 'image', 'idcode', 'unit', 'position'],
    rows: pieces.map(({ id, tag, batchId, verdict, symptom, imageSha256, idcode }) => {
      const card = cardOf.get(batchId)
      const at = where.get(id)
      return [tag, card?.code, card?.part.words, verdict, symptom, imageSha256, idcode, at?.tag, at?.designator]
    }),
  }
}

const TABLES: Record<ShelfExport, (sight: Sight) => Table> = { parts: partTable, batches: batchTable, pieces: pieceTable }
