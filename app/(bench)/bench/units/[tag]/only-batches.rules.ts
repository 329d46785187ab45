import type { PositionView } from '#bench/units/view.contract'

interface Choice {
  partId: string
  batches: readonly { id: string; code: string; inHand: number; asks: boolean }[]
  pieces: readonly unknown[]
}

export interface OnlyBatch {
  batchId: string
  code: string
  part: string
  designators: string[]
}

/** The lines for which one batch is there, with enough in it, and nothing to ask; pieces with tags are chosen one by one. */
export function onlyBatches(positions: readonly PositionView[], choices: readonly Choice[]): OnlyBatch[] {
  const left = new Map<string, number>()
  return choices.flatMap(({ partId, batches, pieces }) => {
    const [only, ...others] = batches.filter(({ asks }) => !asks)
    const open = positions.filter((position) => position.partId === partId && position.mayFit)
    const [first] = open
    if (!only || !first || others.length > 0 || pieces.length > 0) return []
    const inHand = left.get(only.id) ?? only.inHand
    if (inHand < open.length) return []
    left.set(only.id, inHand - open.length)
    return [{ batchId: only.id, code: only.code, part: first.part, designators: open.map(({ designator }) => designator) }]
  })
}
