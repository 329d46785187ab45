import type { PartIn } from '#stock/catalogue/part.contract'
import { partWords, readPart, unitOfKind } from '#stock/catalogue/part.rules'

export const wordsOf = ({ kind, name, value = '', package: size = '', rating = '' }: PartIn): string =>
  partWords({ kind, name, value, package: size, rating })

/** Cut at a mark that no backslash stands before; a doubled backslash is one backslash. */
function cut(text: string, mark: ';' | '|'): string[] {
  const parts = ['']
  for (let at = 0; at < text.length; at++) {
    const here = text[at] ?? ''
    if (here === '\\' && at + 1 < text.length) {
      parts[parts.length - 1] += here + (text[at + 1] ?? '')
      at += 1
    } else if (here === mark) parts.push('')
    else parts[parts.length - 1] += here
  }
  return parts
}

const unescaped = (text: string) => text.trim().replaceAll(/\\(.)/g, '$1').trim()
const escaped = (text: string) => text.replaceAll(/[\\;|]/g, '\\$&')

/**
 * Reads what may be fitted instead: substitutes apart by semicolons, the preferred first; of each the value (or the
 * name, where the kind of part has no value), package and rating, apart by bars: `BC547B | TO-92; 2N3904 | TO-92`.
 * Without a package it is the one of the line. A fourth field is the value of a part that is known by its name; `-` says that it has none.
 */
export function readSubstitutes(cell: string, instead: PartIn): { substitutes: PartIn[]; problems: string[] } {
  const problems: string[] = []
  const own = readPart(instead)
  const seen = new Set(own.ok ? [own.sameness] : [])
  const substitutes = cut(cell, ';').flatMap((entry) => {
    if (entry.trim() === '') return []
    const [first = '', size, rating = '', rest = '', ...more] = cut(entry, '|').map(unescaped)
    if (more.length > 0) {
      problems.push(`"${entry.trim()}" has more than value or name, package, rating and value. Put a semicolon between substitutes.`)
      return []
    }
    const isMeasured = unitOfKind(instead.kind) !== undefined && rest === ''
    const part: PartIn = {
      kind: instead.kind,
      name: isMeasured ? instead.kind : first,
      value: isMeasured ? first : rest === '-' ? '' : rest,
      package: size ?? instead.package ?? '',
      rating,
      programmed: instead.programmed ?? false,
      socketed: instead.socketed ?? false,
      hardToFind: false,
      ...(instead.programmed && instead.imageSha256 ? { imageSha256: instead.imageSha256 } : {}),
    }
    const reading =
      first === '' ? ({ ok: false, words: 'A substitute has no name. Write its value or name first.' } as const) : readPart(part)
    if (!reading.ok || first.length > 120 || (size ?? '').length > 60 || rating.length > 60) {
      problems.push(reading.ok ? `"${entry.trim().slice(0, 40)}…" is too long for a part.` : reading.words)
      return []
    }
    if (seen.has(reading.sameness)) {
      problems.push(`${wordsOf({ ...part, value: reading.value })} is named twice on this line, or is the part itself. Keep it once.`)
      return []
    }
    seen.add(reading.sameness)
    return [{ ...part, value: reading.value }]
  })
  return { substitutes, problems }
}

/** The same cell, written from catalogue entries. */
export const writeSubstitutes = (
  parts: readonly { kind: PartIn['kind']; name: string; value: string; package: string; rating: string }[],
): string =>
  parts
    .map(({ kind, name, value, package: size, rating }) => {
      const isMeasured = unitOfKind(kind) !== undefined
      const isNamed = name.trim().toLowerCase() !== kind
      if (isMeasured && value !== '' && !isNamed) return [value, size, ...(rating === '' ? [] : [rating])].map(escaped).join(' | ')
      const rest = value !== '' ? [rating, value] : isMeasured ? [rating, '-'] : rating === '' ? [] : [rating]
      return [name, size, ...rest].map(escaped).join(' | ')
    })
    .join('; ')
