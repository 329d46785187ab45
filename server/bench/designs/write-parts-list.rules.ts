import type { Cell } from '#kernel/csv'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import type { PartRow } from '#stock/catalogue/part.contract'
import { writeSubstitutes } from './substitutes.rules'

export const PARTS_LIST_HEAD = [
  'designators',
  'kind',
  'part',
  'value',
  'package',
  'rating',
  'quantity',
  'blocks',
  'after',
  'not fitted',
  'programmed',
  'socketed',
  'hard to find',
  'image',
  'idcode',
  'substitutes',
  'notes',
] as const

export interface ListedLine {
  designators: readonly string[]
  part: Omit<PartRow, 'id'>
  quantity: number
  blocks: readonly string[]
  fittedAfter: string | null
  notFitted?: boolean
  notes: string
  substitutes: readonly Omit<PartRow, 'id'>[]
}

/** One line as the import reads it. */
export const partsListRow = ({
  designators,
  part,
  quantity,
  blocks,
  fittedAfter,
  notFitted = false,
  notes,
  substitutes,
}: ListedLine): Cell[] => [
  collapseDesignators(designators),
  part.kind,
  part.name,
  part.value,
  part.package,
  part.rating,
  quantity,
  blocks.join('; '),
  fittedAfter,
  notFitted,
  part.programmed,
  part.socketed,
  part.hardToFind,
  part.imageSha256,
  part.idcode,
  writeSubstitutes(substitutes),
  notes,
]
