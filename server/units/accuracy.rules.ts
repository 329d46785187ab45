/**
 * An instrument's accuracy as its maker writes it: `±(0.5 % + 2 digits)`, `±0.05 V`, `±20 ppm`,
 * several for several quantities: `V ±(0.5 % + 2 digits); Ω ±(0.8 % + 1 digit)`.
 */
export interface AccuracyTerm {
  /** The quantity it holds for, by its base unit ("V", "Ω"); null for any. */
  quantity: string | null
  /** Part of the reading: 0.005 for 0.5 %. */
  ofReading: number
  digits: number
  /** A fixed part, in base units of the quantity. */
  fixed: number
  /** The quantity that the fixed part is in; null when there is none. */
  fixedIn: string | null
}

export type AccuracyAnswer = { ok: true; terms: AccuracyTerm[] } | { ok: false; words: string }

const PREFIX: Record<string, number> = { p: 1e-12, n: 1e-9, µ: 1e-6, m: 1e-3, '': 1, k: 1e3, M: 1e6, G: 1e9 }
const QUANTITY = /^(p|n|µ|m|k|M|G|)(V|A|Ω|Hz|s|F|H|W|°C|dB|K)(?:pp|rms|m|V)?$/
const EXAMPLE = 'Write it as the maker does, such as ±(0.5 % + 2 digits).'

export function readAccuracy(text: string): AccuracyAnswer {
  const tidy = text.normalize('NFKC').replaceAll('μ', 'µ').replaceAll('+/-', '±').trim()
  if (tidy === '') return { ok: false, words: EXAMPLE }
  if (tidy.length > 300) return { ok: false, words: 'Keep the accuracy under 300 characters.' }
  const terms: AccuracyTerm[] = []
  for (const piece of tidy.split(';').map((part) => part.trim())) {
    if (piece === '') continue
    const term = readTerm(piece)
    if (term === null) return { ok: false, words: `"${piece.slice(0, 60)}" was not understood. ${EXAMPLE}` }
    if (terms.some((other) => other.quantity === term.quantity)) {
      return { ok: false, words: `There are two accuracies for ${term.quantity ?? 'every quantity'}. Keep one.` }
    }
    terms.push(term)
  }
  return terms.length > 0 ? { ok: true, terms } : { ok: false, words: EXAMPLE }
}

/**
 * Half-width `a` of the interval in which the true value lies, in the unit of the reading.
 * Null when the instrument states nothing for that quantity.
 */
export function halfWidth(terms: readonly AccuracyTerm[], reading: { value: number; resolution: number; unit: string }): number | null {
  const unit = QUANTITY.exec(bare(reading.unit))
  const quantity = unit?.[2] ?? null
  const scale = PREFIX[unit?.[1] ?? ''] ?? 1
  const term = terms.find((one) => one.quantity !== null && one.quantity === quantity) ?? terms.find((one) => one.quantity === null)
  if (!term || (term.fixedIn !== null && term.fixedIn !== quantity)) return null
  return term.ofReading * Math.abs(reading.value) + term.digits * reading.resolution + term.fixed / scale
}

const bare = (unit: string) => unit.normalize('NFKC').replaceAll('μ', 'µ').replaceAll(/\s+/g, '')

function readTerm(text: string): AccuracyTerm | null {
  const match = /^(?:([^±\s:]+)\s*:?\s*)?±\s*\(?([^()]+)\)?$/.exec(text)
  if (!match) return null
  const [, named, body = ''] = match
  const quantity = named === undefined ? null : (QUANTITY.exec(bare(named))?.[2] ?? null)
  if (named !== undefined && quantity === null) return null
  const term: AccuracyTerm = { quantity, ofReading: 0, digits: 0, fixed: 0, fixedIn: null }
  for (const part of body.split('+')) {
    const figure = /^\s*(\d+(?:[.,]\d+)?)\s*(.+?)\s*$/.exec(part)
    if (!figure) return null
    const amount = Number((figure[1] ?? '').replace(',', '.'))
    const what = figure[2] ?? ''
    const unit = QUANTITY.exec(bare(what))
    if (/^%( of reading| rdg)?$/i.test(what)) term.ofReading += amount / 100
    else if (/^ppm$/i.test(what)) term.ofReading += amount / 1e6
    else if (/^(digits?|dgts?|d|counts?)$/i.test(what)) term.digits += amount
    else if (unit && (quantity === null || unit[2] === quantity)) {
      term.fixed += amount * (PREFIX[unit[1] ?? ''] ?? 1)
      term.fixedIn = unit[2] ?? null
    } else return null
  }
  return term
}
