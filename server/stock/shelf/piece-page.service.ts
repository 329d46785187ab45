import type { Sight } from '#runtime/queue/turn'
import { listDonors } from '../donors/donor.service'
import { getPieceByTag, inspectionsOf } from './piece.service'
import type { InspectionRow, PieceRow } from './piece.store'
import { type BatchCard, batchCard } from './stock.service'

export interface PiecePage {
  piece: PieceRow
  batch: Pick<BatchCard, 'id' | 'code' | 'state' | 'reason' | 'marking' | 'dateCode' | 'boughtFrom' | 'part' | 'donorId'>
  donorName: string
  inspections: InspectionRow[]
  /** Where it is fitted now. */
  at: { tag: string; designator: string } | null
}

/** One piece by its tag: what it is, who gave it, everything that was said of it, and where it is. */
export function piecePage(sight: Sight, tag: string): PiecePage {
  const piece = getPieceByTag(sight, tag, 'tag')
  const { id, code, state, reason, marking, dateCode, boughtFrom, part, donorId, fittedAt } = batchCard(sight, piece.batchId)
  const held = fittedAt.find(({ pieceId }) => pieceId === piece.id)
  return {
    piece,
    batch: { id, code, state, reason, marking, dateCode, boughtFrom, part, donorId },
    donorName: listDonors(sight).find((donor) => donor.id === donorId)?.name ?? '',
    inspections: inspectionsOf(sight, [piece.id]),
    at: held ? { tag: held.tag, designator: held.designator } : null,
  }
}
