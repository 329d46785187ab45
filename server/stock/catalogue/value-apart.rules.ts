import type { PartIn } from './part.contract'
import { readPart, unitOfKind } from './part.rules'
import { readValue, type ValueUnit } from './value.rules'

export type PartApart =
  | {
      ok: true
      /** With its value in the one form. */
      part: PartIn
      /** Questions worth asking, and what was taken out of the value. */
      hints: string[]
    }
  | { ok: false; field: 'value' | 'name'; words: string }

/**
 * Takes apart what people write in the one field for the value: `10u/16V`, `100nF X7R`, `4k7 1% 1/4W 0805`. Ratings go to
 * the rating, a size to the package, a dielectric or technology before the kind in the name. What is none of these is
 * named and refused, so that nothing is dropped.
 */
export function valueApart(part: PartIn): PartApart {
  const unit = unitOfKind(part.kind)
  const written = (part.value ?? '').normalize('NFKC').trim()
  const whole = readPart(part)
  if (whole.ok) return { ok: true, part: { ...part, value: whole.value }, hints: whole.hint ? [whole.hint] : [] }
  // What reads as a value of another kind is that, and not a value with something beside it.
  if (unit === undefined || readValue(written).ok) return whole
  const words = wordsOf(written)
  const measure = measureIn(words, unit)
  if (measure === null) return whole
  const rest = words.filter((_, at) => at < measure.from || at >= measure.to)
  if (rest.length === 0) return whole
  const sorted = rest.map((word) => ({ word, is: whatIs(word) }))
  const odd = sorted.find(({ is }) => is === null)
  if (odd) {
    const means = `"${measure.text}" is the value; what "${odd.word}" means beside it was not understood.`
    return { ok: false, field: 'value', words: `${means} Put it in the column of what it is: name, package, rating or notes.` }
  }
  const take = (which: Sort) => sorted.filter(({ is }) => is === which).map(({ word }) => word)
  const [sizes, ratings, technologies] = [take('package'), take('rating'), take('technology')]
  const other = sizes.find((size) => (part.package ?? '') !== '' && size.toLowerCase() !== part.package?.toLowerCase())
  if (other)
    return { ok: false, field: 'value', words: `The value says ${other}, the package ${part.package}. Keep the one that is right.` }
  const name = technologies.length > 0 && isBare(part) ? `${technologies.join(' ')} ${part.kind}` : [part.name, ...technologies].join(' ')
  const rating = [part.rating ?? '', ...ratings.filter((one) => !part.rating?.includes(one))].filter(Boolean).join(' ')
  const own = { ...part, value: measure.text, name, rating, package: part.package || (sizes[0] ?? '') }
  const reading = readPart(own)
  if (!reading.ok) return reading
  const said = `"${written}" was taken apart: ${reading.value}, and ${rest.join(', ')}.`
  return { ok: true, part: { ...own, value: reading.value }, hints: reading.hint ? [said, reading.hint] : [said] }
}

const isBare = ({ name, kind }: PartIn) => name.trim().toLowerCase() === kind

/** At blanks and at commas, semicolons, bars and underscores; at a stroke too, unless it is part of a fraction or of a lopsided tolerance. */
const wordsOf = (text: string): string[] =>
  text
    .replaceAll('⁄', '/')
    .replaceAll(/([A-Za-zΩµ%])\/(?!\+)/g, '$1 ')
    .replaceAll(/,(?!\d)/g, ' ')
    .replaceAll(/(\D),/g, '$1 ')
    .replaceAll(/[;|_()]/g, ' ')
    .replaceAll(/(\d) (?=(?:[VWA]|ppm|%)(?![A-Za-z]))/g, '$1')
    .split(/\s+/)
    .filter(Boolean)

type Sort = 'package' | 'rating' | 'technology'

const RATING = /^(?:±?\d{1,6}(?:[.,]\d{1,4})?(?:\/\d{1,4})?(?:[mk]?[VWA](?:DC|AC)?|ppm|%)|[VWA]|ppm|-?\d{2,3}°?C)$/i
const SIZE =
  /^(?:0201|0402|0603|0805|1008|1206|1210|1806|1812|2010|2220|2512|axial|radial|SMD|THT|MELF|(?:DIP|SOIC|SOT|SOD|TO|DO|HC)-?\d{1,3}[A-Z]?)$/i
const TECHNOLOGY =
  /^(?:C0G|COG|NP0|NPO|U2J|X[5678][PRSTUV]|X8[GL]|Y5[UV]|Z5U|ceramic|film|foil|electrolytic|elko|tantalum|polymer|aluminium|aluminum|mica|polyester|polypropylene|polystyrene|MKT|MKP|MKS|FKP|carbon|metal|oxide|thick|thin|wirewound|wire-wound|bipolar|low-?esr|shielded|ferrite|toroidal|slow|fast|resettable|PTC|NTC|lin|log|multiturn|trimmer)$/i

function whatIs(word: string): Sort | null {
  if (SIZE.test(word)) return 'package'
  if (RATING.test(word)) return 'rating'
  return TECHNOLOGY.test(word) ? 'technology' : null
}

/** The longest run of words that reads as a value; "100 nF" before the code "100". A word that is something else begins none. */
function measureIn(words: readonly string[], unit: ValueUnit): { text: string; from: number; to: number } | null {
  for (let from = 0; from < words.length; from++) {
    const first = words[from] ?? ''
    if (whatIs(first) === 'package' || whatIs(first) === 'technology') continue
    for (let to = Math.min(words.length, from + 3); to > from; to--) {
      const text = words.slice(from, to).join(' ')
      if (readValue(text, unit).ok) return { text, from, to }
    }
  }
  return null
}
