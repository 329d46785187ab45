import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { getLotRow, type LotRow } from './lots.service'

/** A lot that anybody may see. A draft is refused in the same words as a number that no lot has: it is nobody's business yet. */
export function getShownRow(sight: Sight, number: number): LotRow {
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  return row
}
