import type { Position } from '../designs/design.contract'
import type { Cause } from './fault.contract'

export interface ClosingFacts {
  cause: Cause
  block: string
  designator: string
  blocks: readonly string[]
  positions: readonly Position[]
  /** The check that opened the fault, while its failure stands. */
  stillFails: string | null
}

export type Closing = { ok: true; block: string | null; designator: string | null } | { ok: false; field: string; words: string }

/** Whether a fault may be closed with this cause, and in which block it was: that of the position, where only that was named. */
export function decideClosing({ cause, block, designator, blocks, positions, stillFails }: ClosingFacts): Closing {
  if (stillFails !== null) {
    const words =
      cause === 'none'
        ? `${stillFails} still fails. Take it again or correct its reading, then close the fault.`
        : `${stillFails} still fails. Enter the change as a rework of what ${stillFails} looks at, or take it again, then close the fault.`
    return no('cause', words)
  }
  if (cause === 'none') {
    if (block !== '' || designator !== '') return no('block', 'If nothing was wrong there is no block. Leave block and position empty.')
    return { ok: true, block: null, designator: null }
  }
  const position = positions.find((one) => one.designator === designator)
  if (designator !== '' && !position)
    return no('designator', `There is no position ${designator}. Write one of the parts list, such as R1.`)
  if (block === '') {
    const only = position?.blocks.length === 1 ? position.blocks[0] : undefined
    return only === undefined ? no('block', 'Choose the block it was in.') : { ok: true, block: only, designator }
  }
  if (!blocks.includes(block)) return no('block', `There is no block "${block}". Choose one of the design's.`)
  if (position && !position.blocks.includes(block)) {
    return no(
      'designator',
      `${designator} belongs to ${position.blocks.join(', ')}, not to ${block}. Choose that block, or another position.`,
    )
  }
  if (cause === 'part' && !position) return no('designator', 'Write the position of the part, such as Q4.')
  return { ok: true, block, designator: position ? designator : null }
}

const no = (field: string, words: string): Closing => ({ ok: false, field, words })
