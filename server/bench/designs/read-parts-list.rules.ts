import type { ColumnWanted, TableRow } from '#kernel/table'
import { classOf, collapseDesignators, findDoubles, readDesignators } from '#stock/catalogue/designator.rules'
import { PART_KINDS, type PartIn, type PartKind } from '#stock/catalogue/part.contract'
import { readPart } from '#stock/catalogue/part.rules'
import { flagIn, namesIn } from './cells.rules'
import type { Flaw } from './design.contract'
import { readSubstitutes, wordsOf } from './substitutes.rules'

export const PARTS_COLUMNS: readonly ColumnWanted[] = [
  { name: 'designators', isRequired: true, also: ['designator', 'references', 'reference', 'refs', 'ref', 'positions'] },
  { name: 'kind', isRequired: false, also: ['part kind', 'class'] },
  { name: 'part', isRequired: false, also: ['name', 'part name', 'type', 'description'] },
  { name: 'value', isRequired: false, also: ['val'] },
  { name: 'package', isRequired: false, also: ['footprint', 'case', 'size'] },
  { name: 'rating', isRequired: false, also: ['voltage', 'tolerance'] },
  { name: 'quantity', isRequired: false, also: ['qty', 'count', 'number'] },
  { name: 'blocks', isRequired: false, also: ['block', 'section'] },
  { name: 'after', isRequired: false, also: ['fitted after'] },
  { name: 'programmed', isRequired: false, also: [] },
  { name: 'socketed', isRequired: false, also: ['socket'] },
  { name: 'hard to find', isRequired: false, also: ['rare'] },
  { name: 'image', isRequired: false, also: ['sha256', 'image sha256'] },
  { name: 'idcode', isRequired: false, also: ['identification code'] },
  { name: 'substitutes', isRequired: false, also: ['substitute', 'accepted substitutes', 'alternatives', 'alternates', 'instead'] },
  { name: 'notes', isRequired: false, also: ['note', 'comment', 'comments', 'remarks'] },
]

export interface PartsLine {
  /** Line of the file, for pointing at it. */
  line: number
  designators: string[]
  part: PartIn
  quantity: number
  blocks: string[]
  fittedAfter: string | null
  notes: string
  /** What may be fitted instead, the preferred first. */
  substitutes: PartIn[]
  /** A question worth asking of this line; never a reason to refuse it. */
  hint: string | null
  /** What was understood, in words: "R1-R4 · 4 × 4.7 kΩ resistor, axial". */
  understood: string
}

/** Reads the rows of a parts list: designators expanded and counted, values read, double uses found. `block` is that of rows that name none. */
export function readPartsList(rows: readonly TableRow[], block = ''): { lines: PartsLine[]; flaws: Flaw[] } {
  const flaws: Flaw[] = []
  const lines = rows.map((row) => readLine(row, block, (column, words) => flaws.push({ list: 'partsList', line: row.line, column, words })))
  for (const { designator, lines: where } of findDoubles(lines)) {
    const last = where.at(-1) ?? 0
    if (where.length > 1) {
      const words = `${designator} is used on lines ${where.join(' and ')}. A position holds one part.`
      flaws.push({ list: 'partsList', line: last, column: 'designators', words })
    }
  }
  return { lines, flaws }
}

function readLine({ line, cells }: TableRow, block: string, complain: (column: string, words: string) => void): PartsLine {
  const cell = (name: string) => cells[name] ?? ''
  const flag = (name: string) => {
    const answer = flagIn(cell(name), name)
    if (answer === null) complain(name, `"${cell(name)}" is neither yes nor no. Write y or leave it empty.`)
    return answer ?? false
  }
  const { designators, problems } = readDesignators(cell('designators'))
  for (const words of problems) complain('designators', words)
  const quantity = cell('quantity') === '' ? designators.length : Number(cell('quantity').normalize('NFKC'))
  if (cell('quantity') === '') {
    // Where no quantity is written, the designators are counted.
  } else if (!/^\d{1,4}$/.test(cell('quantity').normalize('NFKC').trim()) || quantity < 1) {
    complain('quantity', `"${cell('quantity')}" is not a quantity. Write a whole number above zero.`)
  } else if (problems.length === 0 && quantity !== designators.length) {
    complain(
      'quantity',
      `The quantity is ${quantity}, but ${designators.length} designators are written: ${collapseDesignators(designators)}.`,
    )
  }
  const blocks = namesIn(cell('blocks') || block)
  if (blocks.length === 0) complain('blocks', 'Name the block these positions belong to.')
  const hints: string[] = []
  const part = readPartCells()
  const read = readSubstitutes(cell('substitutes'), part)
  for (const words of read.problems) complain('substitutes', words)
  const instead = read.substitutes.length === 0 ? '' : ` · or ${read.substitutes.map(wordsOf).join(', or ')}`
  return {
    line,
    designators,
    part,
    quantity: designators.length,
    blocks,
    fittedAfter: cell('after') === '' ? null : cell('after'),
    notes: cell('notes').slice(0, 300),
    substitutes: read.substitutes,
    hint: [...hints, ...lettersHint(designators, part.kind)].join(' ') || null,
    understood: `${collapseDesignators(designators)} · ${designators.length} × ${wordsOf(part)}${instead}`,
  }

  function readPartCells(): PartIn {
    const kind = kindOf(cell('kind'), designators[0])
    if (kind === null) complain('kind', `"${cell('kind')}" is not a kind of part. Write one of: ${PART_KINDS.join(', ')}.`)
    const image = cell('image').toLowerCase()
    if (image !== '' && !/^[0-9a-f]{64}$/.test(image)) complain('image', 'A SHA-256 is 64 characters, 0-9 and a-f.')
    const idcode = cell('idcode').toLowerCase()
    if (idcode !== '' && !/^0x[0-9a-f]{8}$/.test(idcode)) complain('idcode', 'An identification code is written like 0x1ba02093.')
    const read: PartIn = {
      kind: kind ?? 'other',
      name: cell('part') || (kind ?? 'other'),
      value: cell('value'),
      package: cell('package'),
      rating: cell('rating'),
      programmed: flag('programmed'),
      socketed: flag('socketed'),
      hardToFind: flag('hard to find'),
      ...(image === '' ? {} : { imageSha256: image }),
      ...(idcode === '' ? {} : { idcode }),
    }
    for (const [column, most] of [
      ['part', 120],
      ['package', 60],
      ['rating', 60],
    ] as const) {
      if (cell(column).length > most) complain(column, `Keep it under ${most} characters.`)
    }
    const reading = readPart(read)
    if (!reading.ok) complain(reading.field === 'name' ? 'part' : reading.field, reading.words)
    if (reading.ok && reading.hint) hints.push(reading.hint)
    return reading.ok ? { ...read, value: reading.value } : read
  }
}

/** What the class letters say against the line, or against themselves. */
function lettersHint(designators: readonly string[], kind: PartKind): string[] {
  const said = [...new Set(designators.map((one) => classOf(one)))]
  return said.flatMap((found) => {
    if (!found) return []
    const other =
      found.kind !== kind && found.kind !== 'other' && kind !== 'other'
        ? [`By its letters ${found.letters} is a ${found.meaning}; the list says ${kind}.`]
        : []
    return found.instead ? [...other, `The standard has ${found.instead} where this list has ${found.letters}.`] : other
  })
}

/** As written, or by the class letters of the first designator. */
function kindOf(cell: string, designator: string | undefined): PartKind | null {
  const said = cell.toLowerCase()
  if (said === '') return (designator === undefined ? undefined : classOf(designator)?.kind) ?? null
  return PART_KINDS.find((kind) => kind === said || `${kind}s` === said) ?? null
}
