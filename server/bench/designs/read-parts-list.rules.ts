import type { TableRow } from '#kernel/table'
import { classOf, collapseDesignators, findDoubles, readDesignators } from '#stock/catalogue/designator.rules'
import { packageIn } from '#stock/catalogue/package.rules'
import { PART_KINDS, type PartIn, type PartKind } from '#stock/catalogue/part.contract'
import { valueApart } from '#stock/catalogue/value-apart.rules'
import { flagIn, namesIn } from './cells.rules'
import type { Flaw } from './design.contract'
import { readSubstitutes, wordsOf } from './substitutes.rules'

export interface PartsLine {
  /** Line of the file, for pointing at it. */
  line: number
  designators: string[]
  part: PartIn
  quantity: number
  blocks: string[]
  fittedAfter: string | null
  notes: string
  /** These positions stay empty: the line is kept for whoever reads the board, and asks for nothing. */
  notFitted: boolean
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
  const isLeftEmpty = LEFT_EMPTY.test(cell('value').trim())
  const notFitted = isLeftEmpty || LEFT_EMPTY.test(cell('not fitted').trim()) || flag('not fitted')
  if (blocks.length === 0 && !notFitted) complain('blocks', 'Name the block these positions belong to.')
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
    notFitted,
    substitutes: read.substitutes,
    hint: [...hints, ...lettersHint(designators, part.kind)].join(' ') || null,
    understood: `${collapseDesignators(designators)} · ${designators.length} × ${wordsOf(part)}${notFitted ? ', not fitted' : instead}`,
  }

  function readPartCells(): PartIn {
    const kind = kindOf(cell('kind'), designators[0])
    const letters = designators[0] === undefined ? undefined : /^[A-Z]+/.exec(designators[0])?.[0]
    if (kind === null && cell('kind') === '' && letters !== undefined)
      hints.push(`${letters} is in no list of class letters, so the part was taken as "other". Write its kind if it has one.`)
    else if (kind === null && cell('kind') !== '')
      complain('kind', `"${cell('kind')}" is not a kind of part. Write one of: ${PART_KINDS.join(', ')}.`)
    const image = cell('image').toLowerCase()
    if (image !== '' && !/^[0-9a-f]{64}$/.test(image)) complain('image', 'A SHA-256 is 64 characters, 0-9 and a-f.')
    const idcode = cell('idcode').toLowerCase()
    if (idcode !== '' && !/^0x[0-9a-f]{8}$/.test(idcode)) complain('idcode', 'An identification code is written like 0x1ba02093.')
    const read: PartIn = {
      kind: kind ?? 'other',
      name: cell('part') || (kind ?? 'other'),
      value: isLeftEmpty ? '' : cell('value'),
      package: packageIn(cell('package')),
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
    const reading = valueApart(read)
    if (!reading.ok) {
      complain(reading.field === 'name' ? 'part' : reading.field, reading.words)
      return read
    }
    if (['resistor', 'capacitor', 'inductor'].includes(read.kind) && !read.value && !isLeftEmpty && read.name === read.kind)
      hints.push(`No value is given for this ${read.kind}: is its column left out?`)
    hints.push(...reading.hints)
    return reading.part
  }
}

/** In the place of a value or under "not fitted": the position stays empty. */
const LEFT_EMPTY = /^(?:dnp|dnf|dni|nf|n\.f\.|not fitted|do not (?:fit|populate|place|install))$/i

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
