import type { TableRow } from '#kernel/table'
import { PART_KINDS, type PartIn, type PartKind, partIn } from '#stock/catalogue/part.contract'
import { partWords, readPart, unitOfKind } from '#stock/catalogue/part.rules'
import { KIND_OF_UNIT, kindNamed, partsMeant } from '#stock/catalogue/parts-meant.rules'
import { readValue } from '#stock/catalogue/value.rules'
import { valueApart } from '#stock/catalogue/value-apart.rules'
import type { Notes } from './notes.rules'

export interface KnownPart {
  kind: PartKind
  name: string
  value: string
  package: string
  rating: string
  programmed: boolean
  words: string
}

export interface RowPart {
  part: PartIn
  /** As the catalogue calls it, or would. */
  words: string
  sameness: string
  /** It is in the catalogue. */
  isKnown: boolean
  /** Nothing says what kind of part it is. */
  isOther: boolean
  /** What stands in the cell and was not understood of it. */
  rest: string
}

/** Reads rows as parts: by their columns, or by the words of one, as the shelf reads what stands on a bag. */
export function partReader(catalogue: readonly KnownPart[], notes: Notes): (row: TableRow) => RowPart | null {
  const bySameness = new Map<string, KnownPart>()
  const byWords = new Map<string, KnownPart>()
  for (const entry of catalogue) {
    const reading = readPart(entry)
    if (reading.ok) bySameness.set(reading.sameness, entry)
    for (const words of [entry.words, entry.name]) if (!byWords.has(plain(words))) byWords.set(plain(words), entry)
  }
  const meant = new Map<string, PartIn | null>()
  const readWords = (text: string): PartIn | null => {
    const before = meant.get(text)
    if (before !== undefined) return before
    const fresh = partsMeant(text, []).fresh?.part ?? null
    meant.set(text, fresh)
    return fresh
  }
  return (row) => {
    const kind = kindIn(row, notes)
    if (kind === null) return null
    const found = kind.said === undefined && !row.cells.value ? byWords.get(plain(row.cells.part ?? '')) : undefined
    const draft = found ? { part: bare(found), isOther: false, rest: '' } : draftOf(row, kind.said, readWords)
    return finished(draft, row, bySameness, notes)
  }
}

const bare = ({ kind, name, value, package: size, rating, programmed }: KnownPart): PartIn => ({
  kind,
  name,
  value,
  package: size,
  rating,
  programmed,
})

const plain = (text: string): string => text.normalize('NFKC').toLowerCase().replaceAll(/\s+/g, ' ').trim()

/** What the column for the kind says; null where it says what is no kind. */
function kindIn({ line, cells: { kind: written = '' } }: TableRow, notes: Notes): { said: PartKind | undefined } | null {
  if (written === '') return { said: undefined }
  const said = PART_KINDS.find((kind) => kind === written.toLowerCase()) ?? kindNamed(written)
  if (said) return { said }
  notes.flaw(line, 'kind', `“${written.slice(0, 40)}” is no kind of part here. Write ${PART_KINDS.join(', ')}.`)
  return null
}

type Draft = Pick<RowPart, 'part' | 'isOther' | 'rest'>

function draftOf({ cells }: TableRow, said: PartKind | undefined, readWords: (text: string) => PartIn | null): Draft {
  const { part: name = '', value = '' } = cells
  if (value !== '') {
    const measured = readValue(value)
    const kind = said ?? (measured.ok ? KIND_OF_UNIT[measured.value.unit] : undefined) ?? readWords(`${name} ${value}`)?.kind
    return {
      part: { kind: kind ?? 'other', name: name || kind || value, value: name === '' && kind === undefined ? '' : value },
      isOther: kind === undefined,
      rest: '',
    }
  }
  const read = readWords(said ? `${said} ${name}` : name)
  if (read && (said === undefined || read.kind === said)) return { part: read, isOther: false, rest: isWholeOf(read, name) ? '' : name }
  return { part: { kind: said ?? 'other', name }, isOther: said === undefined, rest: '' }
}

/** Whether nothing of the words is lost in the part that was read in them. */
function isWholeOf(part: PartIn, text: string): boolean {
  if (unitOfKind(part.kind) === undefined || !part.value) return true
  const measured = text
    .normalize('NFKC')
    .split(/\s+/)
    .filter((word) => kindNamed(word) === undefined)
    .join(' ')
  return valueApart({ kind: part.kind, name: part.kind, value: measured }).ok
}

function finished(
  { part, isOther, rest }: Draft,
  { line, cells }: TableRow,
  known: ReadonlyMap<string, KnownPart>,
  notes: Notes,
): RowPart | null {
  const said = [cells.tolerance ? tolerance(cells.tolerance) : '', cells.rating ?? ''].filter(
    (one) => one !== '' && !part.rating?.includes(one),
  )
  const whole = { ...part, package: cells.package || (part.package ?? ''), rating: [part.rating ?? '', ...said].filter(Boolean).join(' ') }
  const apart = valueApart(whole)
  if (!apart.ok) {
    notes.flaw(line, apart.field === 'name' || !cells.value ? 'part' : 'value', apart.words)
    return null
  }
  const shape = partIn.safeParse(apart.part)
  if (!shape.success) {
    const [issue] = shape.error.issues
    const column = { name: 'part', value: 'value', package: 'package', rating: 'rating' }[String(issue?.path[0])] ?? 'part'
    notes.flaw(line, cells[column] === '' ? 'part' : column, issue?.message ?? 'This was not read as a part.')
    return null
  }
  const reading = readPart(shape.data)
  if (!reading.ok) {
    notes.flaw(line, reading.field === 'name' ? 'part' : 'value', reading.words)
    return null
  }
  for (const hint of apart.hints) notes.hint(line, hint)
  const entry = known.get(reading.sameness)
  const words = entry?.words ?? partWords({ ...shape.data, value: reading.value })
  return {
    part: shape.data,
    words,
    sameness: reading.sameness,
    isKnown: entry !== undefined,
    isOther: isOther && entry === undefined,
    rest,
  }
}

/** "5", "5 %" and "±5%" are one. */
const tolerance = (written: string): string => {
  const figure = /^(?:±|\+\/?-)? ?(\d{1,2}(?:[.,]\d{1,2})?) ?%?$/.exec(written.normalize('NFKC').trim())?.[1]
  return figure === undefined ? written : `±${figure.replace(',', '.')} %`
}
