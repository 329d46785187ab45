import type { BringupView } from '#floor/bringup/bringup.contract'
import type { Choices } from './types'

export interface Source {
  value: string
  label: string
  /** Code of the batch or tag of the piece. */
  name: string
}

/** What in hand could be at a position: pieces that carry a tag where its part has them, else batches. */
export function sourcesFor(
  view: BringupView,
  choices: Choices,
  designator: string | undefined,
): { of: 'pieceTag' | 'batchId'; list: Source[] } {
  const position = view.positions.find((one) => one.designator === designator)
  const choice = choices.find(({ partId }) => partId === position?.partId)
  if (choice && choice.pieces.length > 0) {
    return { of: 'pieceTag', list: choice.pieces.map(({ tag, verdict }) => ({ value: tag, label: `${tag}, ${verdict}`, name: tag })) }
  }
  const batches = choice?.batches ?? []
  return { of: 'batchId', list: batches.map(({ id, code, inHand }) => ({ value: id, label: `${code}, ${inHand} in hand`, name: code })) }
}
