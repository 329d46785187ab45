import { withoutAtEnd } from '#kernel/text'
import { readTolerance, type Tolerance } from './tolerance.rules'

/** What a component's value measures. The unit follows from the kind of part, or from what is written. */
export type ValueUnit = 'Ω' | 'F' | 'H' | 'Hz' | 'V' | 'A' | 'W'

/** An exact decimal, digits × 10^exponent with no trailing nought, so that equal values are equal field by field. */
export interface ComponentValue {
  unit: ValueUnit
  digits: number
  exponent: number
  tolerance?: Tolerance
}

export type ValueReading = { ok: true; value: ComponentValue; note?: string } | { ok: false; words: string }

const PREFIXES: Record<string, number> = { p: -12, n: -9, µ: -6, u: -6, m: -3, k: 3, K: 3, M: 6, meg: 6, G: 9, T: 12 }

const UNIT_WORDS: Record<string, ValueUnit> = {
  Ω: 'Ω',
  ohm: 'Ω',
  ohms: 'Ω',
  R: 'Ω',
  F: 'F',
  H: 'H',
  Hz: 'Hz',
  hz: 'Hz',
  V: 'V',
  A: 'A',
  W: 'W',
}

const NOUN: Record<ValueUnit, string> = {
  Ω: 'a resistance',
  F: 'a capacitance',
  H: 'an inductance',
  Hz: 'a frequency',
  V: 'a voltage',
  A: 'a current',
  W: 'a power',
}

/** Outside these powers of ten nobody sells a part: the reading is more likely a slip of the pen. Common practice. */
const PLAUSIBLE: Record<ValueUnit, [least: number, most: number]> = {
  Ω: [1e-5, 1e13],
  F: [1e-14, 5e3],
  H: [1e-10, 1e3],
  Hz: [1e-3, 1e12],
  V: [1e-3, 1e5],
  A: [1e-6, 1e4],
  W: [1e-3, 1e5],
}

/** Bare numeric codes count in this power of ten: capacitors in picofarads (IEC 60062), inductors in microhenries (common practice). */
const CODE_EXPONENT: Partial<Record<ValueUnit, number>> = { F: -12, H: -6 }

const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`
const UNIT = 'Ω|ohms?|Ohms?|OHMS?|F|H|Hz|hz|HZ|V|A|W'
const PREFIX = 'meg|Meg|MEG|[pnuµmkKMGT]'
const TOLERANCE = String.raw`\s*(?:([BCDEFGHJKLMNPQSTWZ])|((?:±|\+/-|\+-)?\s*\d+(?:\.\d+)?\s*%|(?:±|\+/-|\+-)\s*\d+(?:\.\d+)?\s*pF|[-−]\d+\s*%?/\+\d+\s*%))?`
const PLAIN = new RegExp(`^(${NUMBER})\\s*(${PREFIX})?\\s*(R(?![A-Za-z0-9])|${UNIT})?${TOLERANCE}$`)
const RKM = new RegExp(`^(\\d*)([RpnuµmkKMGTVAF])(\\d+)\\s*(${UNIT})?${TOLERANCE}$`)
const CODE = new RegExp(`^(\\d{2})(\\d)${TOLERANCE}$`)
/** A resistance by its mark, and a letter that is a unit elsewhere: 4k7F, 10RH, 4k7W. */
const MARKED_OHMS = /^(\d*(?:\.\d+)?[RkKM]\d*)([FHW])$/
const GUARANTEED_LEAST = /^\d[^P]*P$/
const OHMS_BY_E = /^\d+(?:\.\d+)?E$/

/**
 * Reads a component's value as people write it: 4k7, 4.7K, 4700, 4R7, R47, 100n, 0.1uF, 104, 1M5, p33, 10 µH.
 * IEC 60062: a letter may stand for the decimal mark; three digits on a capacitor are two figures and the
 * number of noughts in picofarads. `expected` is the unit that the kind of part calls for, if it is known.
 */
export function readValue(text: string, expected?: ValueUnit): ValueReading {
  const written = text.normalize('NFKC').replaceAll('μ', 'µ').replaceAll(/\s+/g, ' ').trim()
  if (written === '') return { ok: false, words: 'No value is given.' }
  if (written.length > 40) return { ok: false, words: 'That is too long to be a value. Write it like 4k7 or 100 nF.' }
  if (/^[-−]/.test(written)) return { ok: false, words: `"${written}" is below zero. Write it like 4k7 or 100 nF.` }
  if (/^\d{1,3},\d{3}(?!\d)/.test(written)) {
    return { ok: false, words: `"${written}" can be read two ways. Write ${written.replace(',', '')} or ${written.replace(',', '.')}.` }
  }
  const plain = written.replace(/^(\d+),(\d+)/, '$1.$2')
  const asked = lettersOfTwoReadings(written, plain, expected)
  if (asked !== undefined) return { ok: false, words: asked }
  // Behind a mark of resistance these are tolerances, and no units: 4k7F is 4.7 kΩ within one in a hundred.
  const marked = expected === 'Ω' ? MARKED_OHMS.exec(plain) : null
  if (marked) {
    const [, ohms = '', tolerance = ''] = marked
    const reading = readValue(ohms, 'Ω')
    const within = readTolerance(tolerance, undefined, false)
    return reading.ok && within ? { ...reading, value: { ...reading.value, tolerance: within } } : reading
  }
  const code = expected && CODE_EXPONENT[expected] !== undefined ? CODE.exec(plain) : null
  if (code && expected) return readCode(written, code, expected)

  const rkm = RKM.exec(plain)
  if (rkm) return readRkm(written, rkm, expected)
  const match = PLAIN.exec(plain)
  if (match) return readPlain(written, match, expected)
  return { ok: false, words: `"${written}" is not a value. Write it like 4k7, 100 nF or 10 µH.` }
}

/** What is written the same and means two things, in words that say how to write either; undefined where there is one reading. */
function lettersOfTwoReadings(written: string, plain: string, expected: ValueUnit | undefined): string | undefined {
  if (expected === 'F' && GUARANTEED_LEAST.test(plain)) {
    const value = plain.slice(0, -1).trim()
    if (/^\d{1,2}$/.test(value)) return `"${written}" can be read two ways. Write ${value} pF, or P as the tolerance that it stands for.`
    return `"${written}" can be read two ways: P is ±0.02 % in IEC 60062, and −0/+100 % on older capacitors. Write ${value} -0/+100 % or ${value} ±0.02 %.`
  }
  if (expected === undefined && MARKED_OHMS.test(plain)) {
    const ohms = plain.slice(0, -1)
    return `"${written}" can be read two ways: the last letter may be a tolerance or a unit. Write ${ohms} Ω and the tolerance, or the unit after a space.`
  }
  if (expected === 'Ω' && OHMS_BY_E.test(plain)) {
    const figure = plain.slice(0, -1)
    return `"${written}" can be read two ways: E is written for ohms, and is ±0.005 % in IEC 60062. Write ${figure}R, or ${figure} ±0.005 %.`
  }
  return undefined
}

function readCode(written: string, [, figures = '', noughts = '', letter, percent]: RegExpExecArray, unit: ValueUnit): ValueReading {
  // 8 and 9 stand for ×0.01 and ×0.1: 229 is 2.2 pF.
  const shift = noughts === '8' ? -2 : noughts === '9' ? -1 : Number(noughts)
  const reading = finish(written, figures, shift + (CODE_EXPONENT[unit] ?? 0), unit, unit, letter, percent)
  return reading.ok ? { ...reading, note: `read as the code ${figures}${noughts}: ${showValue(reading.value)}` } : reading
}

function readRkm(written: string, match: RegExpExecArray, expected: ValueUnit | undefined): ValueReading {
  const [, before = '', mark = '', after = '', unitWords, letter, percent] = match
  const unit = unitOf(unitWords) ?? unitOfMark(mark, expected)
  // R on a capacitor or coil marks the decimal point of picofarads or microhenries, not of ohms.
  const power = mark === 'R' && unit ? (CODE_EXPONENT[unit] ?? 0) : (PREFIXES[mark] ?? 0)
  return finish(written, `${before}.${after}`, power, unit, expected, letter, percent)
}

function unitOfMark(mark: string, expected: ValueUnit | undefined): ValueUnit | undefined {
  if (mark === 'R') return expected === 'F' || expected === 'H' ? expected : 'Ω'
  return UNIT_WORDS[mark] ?? expected ?? usualUnit(mark)
}

function readPlain(written: string, match: RegExpExecArray, expected: ValueUnit | undefined): ValueReading {
  const [, number = '', prefix = '', unitWords, letter, percent] = match
  const unit = unitOf(unitWords) ?? expected ?? usualUnit(prefix)
  const bare = prefix === '' && unitWords === undefined
  if (bare && unit === 'F' && /^\d{4,}$/.test(number)) {
    return { ok: false, words: `"${written}" can be read two ways. Write ${number} pF, or the value with its unit.` }
  }
  const power = bare && unit ? (CODE_EXPONENT[unit] ?? 0) : (PREFIXES[prefix === '' ? '' : /^meg$/i.test(prefix) ? 'meg' : prefix] ?? 0)
  const reading = finish(written, number, power, unit, expected, letter, percent)
  return reading.ok && bare && power !== 0 ? { ...reading, note: `read as ${showValue(reading.value)}` } : reading
}

/** Without a known kind of part, kilo and above speak of ohms, below one of farads. */
function usualUnit(prefix: string): ValueUnit | undefined {
  const power = PREFIXES[prefix]
  return power === undefined ? undefined : power > 0 ? 'Ω' : 'F'
}

function unitOf(words: string | undefined): ValueUnit | undefined {
  if (words === undefined) return undefined
  return UNIT_WORDS[words] ?? UNIT_WORDS[words.toLowerCase()]
}

function finish(
  written: string,
  number: string,
  power: number,
  unit: ValueUnit | undefined,
  expected: ValueUnit | undefined,
  letter: string | undefined,
  percent: string | undefined,
): ValueReading {
  if (unit === undefined) return { ok: false, words: `"${written}" of what? Add the unit, such as ${written} Ω or ${written} pF.` }
  const [whole = '', fraction = ''] = number.split('.')
  const value = exact(whole + fraction, power - fraction.length, unit)
  if (value === undefined) return { ok: false, words: `"${written}" has more figures than any part. Write at most twelve.` }
  if (expected !== undefined && unit !== expected) {
    return { ok: false, words: `"${written}" was understood as ${showValue(value)}, ${NOUN[unit]}; this part has ${NOUN[expected]}.` }
  }
  if (value.digits === 0 && unit !== 'Ω') return { ok: false, words: `"${written}" is zero. Only a link has no value.` }
  const [least, most] = PLAUSIBLE[unit]
  if (value.digits !== 0 && (siOf(value) < least || siOf(value) > most)) {
    return { ok: false, words: `"${written}" was understood as ${showValue(value)}, a value no part has. Check the letter and its case.` }
  }
  const tolerance = readTolerance(letter, percent, unit === 'F' && siOf(value) < 1e-11)
  return { ok: true, value: tolerance ? { ...value, tolerance } : value }
}

function exact(figures: string, exponent: number, unit: ValueUnit): ComponentValue | undefined {
  const trimmed = withoutAtEnd(figures.replace(/^0+/, ''), '0')
  if (trimmed.length > 12) return undefined
  if (trimmed === '') return { unit, digits: 0, exponent: 0 }
  const noughts = figures.length - withoutAtEnd(figures, '0').length
  return { unit, digits: Number(trimmed), exponent: exponent + noughts }
}

/** The value in SI units, as the nearest floating-point number: for comparing with limits, never for keeping. */
export const siOf = (value: ComponentValue): number => Number(`${value.digits}e${value.exponent}`)

const STEPS = [
  [12, 'T'],
  [9, 'G'],
  [6, 'M'],
  [3, 'k'],
  [0, ''],
  [-3, 'm'],
  [-6, 'µ'],
  [-9, 'n'],
  [-12, 'p'],
] as const

/** "4.7 kΩ", "100 nF", "0.33 pF", "4700 µF": engineering notation, capacitors never in millifarads since nobody asks for them so. */
export function showValue(value: ComponentValue): string {
  const magnitude = value.digits === 0 ? 0 : String(value.digits).length + value.exponent - 1
  const floor = value.unit === 'F' ? -12 : value.unit === 'H' ? -9 : -3
  const fits = STEPS.find(
    ([power]) =>
      (power <= magnitude || power === floor) &&
      power >= floor &&
      !(value.unit === 'F' && (power === -3 || (power === 0 && magnitude < 0))),
  )
  const [power, prefix] = fits ?? [0, '']
  return `${shift(value.digits, value.exponent - power)} ${prefix}${value.unit}${value.tolerance ? ` ${value.tolerance.words}` : ''}`
}

/** A decimal written out: 47 × 10^-1 is "4.7". Strings, so that no digit is lost. */
function shift(digits: number, exponent: number): string {
  const text = String(digits)
  if (exponent >= 0) return digits === 0 ? '0' : text + '0'.repeat(exponent)
  const padded = text.padStart(1 - exponent, '0')
  return `${padded.slice(0, padded.length + exponent)}.${padded.slice(padded.length + exponent)}`
}
