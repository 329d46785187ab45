import { withoutAtEnd } from '#kernel/text'
import { type ComponentValue, siOf } from './value.rules'

/** IEC 60063:2015. E3 to E24 are listed: eight of E24 differ from the formula, for historical reasons. */
const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91]
const everyNth = (step: number) => E24.filter((_, index) => index % step === 0)

/** E48, E96 and E192 are round(100 × 10^(i/n)), but for the one value 920 that IEC 60063 gives in place of 919. */
const computed = (count: number) =>
  Array.from({ length: count }, (_, index) => Math.round(100 * 10 ** (index / count))).map((figure) => (figure === 919 ? 920 : figure))

export const SERIES = {
  E3: everyNth(8),
  E6: everyNth(4),
  E12: everyNth(2),
  E24,
  E48: computed(48),
  E96: computed(96),
  E192: computed(192),
} as const

export type SeriesName = keyof typeof SERIES
const NAMES = Object.keys(SERIES) as SeriesName[]

/** The coarsest series that holds this value, if any does. */
export function seriesOf(value: ComponentValue): SeriesName | undefined {
  return NAMES.find((name) => inSeries(value, name))
}

export function inSeries(value: ComponentValue, name: SeriesName): boolean {
  const width = name === 'E3' || name === 'E6' || name === 'E12' || name === 'E24' ? 2 : 3
  const figures = String(value.digits)
  if (value.digits === 0 || figures.length > width) return false
  return SERIES[name].includes(Number(figures.padEnd(width, '0')))
}

/** The member of a series that lies nearest, by ratio: an error of a tenth matters the same at any size. */
export function nearestIn(value: ComponentValue, name: SeriesName): ComponentValue {
  const width = name === 'E3' || name === 'E6' || name === 'E12' || name === 'E24' ? 2 : 3
  const decade = String(value.digits).length + value.exponent - width
  const candidates = [decade, decade + 1].flatMap((exponent) => SERIES[name].map((figure) => trimmed(value.unit, figure, exponent)))
  const distance = (candidate: ComponentValue) => Math.abs(Math.log(siOf(candidate) / siOf(value)))
  return candidates.reduce((best, candidate) => (distance(candidate) < distance(best) ? candidate : best))
}

function trimmed(unit: ComponentValue['unit'], figure: number, exponent: number): ComponentValue {
  const text = withoutAtEnd(String(figure), '0')
  return { unit, digits: Number(text), exponent: exponent + String(figure).length - text.length }
}

/**
 * A question to ask when a value is one that nobody makes: "4k8 is in no series up to E96; 4k7?". Only for
 * resistors, capacitors and coils, which come in series; never a refusal, since some lists do ask for odd values.
 */
export function seriesHint(value: ComponentValue): string | undefined {
  if (!['Ω', 'F', 'H'].includes(value.unit) || value.digits === 0) return undefined
  const series = seriesOf(value)
  if (series !== undefined && series !== 'E192') return undefined
  const code = /^(\d\d)([1-7])$/.exec(String(value.digits))
  const asCode = value.unit === 'Ω' && value.exponent === 0 && code ? trimmed('Ω', Number(code[1]), Number(code[2])) : undefined
  if (asCode && inSeries(asCode, 'E24')) {
    return `${markOf(value)} is in no series up to E96; as the code ${value.digits} it would be ${markOf(asCode)}. Write which.`
  }
  return `${markOf(value)} is in no series up to E96; ${markOf(nearestIn(value, 'E24'))}?`
}

const MARKS = [
  [9, 'G'],
  [6, 'M'],
  [3, 'k'],
  [0, 'R'],
  [-3, 'm'],
  [-6, 'µ'],
  [-9, 'n'],
  [-12, 'p'],
] as const

/** The value as marked on the part, IEC 60062: 4k7, R47, 100n, p33. */
export function markOf(value: ComponentValue): string {
  const text = String(value.digits)
  const magnitude = text.length + value.exponent - 1
  const [power, mark] = MARKS.find(([step]) => step <= magnitude) ?? (magnitude < -9 ? [-12, 'p'] : [0, 'R'])
  const letter = power === 0 && value.unit !== 'Ω' ? value.unit : value.unit === 'Ω' && power < 0 ? 'R' : mark
  const shift = value.exponent - (letter === 'R' ? 0 : power)
  if (shift >= 0) return `${text}${'0'.repeat(shift)}${letter}`
  const padded = text.padStart(-shift, '0')
  return `${padded.slice(0, padded.length + shift)}${letter}${padded.slice(padded.length + shift)}`
}
