/**
 * A reading as it stands on the meter: `4.98`, `4980 mV`, `31.2m`, `4,98`, full-width digits.
 * The value comes back in the check's own unit, with the size of the last digit shown, which an
 * accuracy in digits needs.
 */
export interface Entry {
  value: number
  /** One step of the last digit, in the check's unit. */
  resolution: number
  /** The digits as understood, with the unit they were read in: "4980 mV". */
  shown: string
}

export type EntryAnswer = { ok: true; entry: Entry } | { ok: false; words: string }

interface UnitShape {
  exponent: number
  base: string
  tail: string
}

const PREFIX: Record<string, number> = { p: -12, n: -9, µ: -6, m: -3, '': 0, k: 3, M: 6, G: 9 }
const BY_EXPONENT = new Map(Object.entries(PREFIX).map(([prefix, exponent]) => [exponent, prefix]))
const SCALED_BASES = ['V', 'A', 'Ω', 'Hz', 's', 'F', 'H', 'W'] as const

/** Reads `text` for a check whose unit is `unit`; a bare number is in that unit. */
export function readEntry(text: string, unit: string): EntryAnswer {
  const example = unit === '' ? 'such as 4' : `such as 4.98 ${unit}`
  const tidy = tidied(text)
  if (tidy === '') return no(`Write what the meter shows, ${example}.`)
  if (tidy.length > 40) return no('That is too long for a reading. Write the figure and its unit.')
  if (/^[+-]?(OL|O\.L|over)/i.test(tidy)) {
    return no('An over-range display is not a figure. Choose a higher range, or write the top of the range, such as 60M.')
  }
  const match = /^([+-]?)([\d.,]+)/.exec(tidy)
  if (!match) return no(`"${tidy}" does not begin with a figure. Write it ${example}.`)
  const [head, sign = '', figure = ''] = match
  const suffix = tidy.slice(head.length).trim()
  const digits = plainDigits(figure)
  if (typeof digits !== 'string') return no(digits.words)
  const shift = shiftOf(suffix, unit)
  if (typeof shift !== 'number') return no(shift.words)
  const decimals = digits.split('.')[1]?.length ?? 0
  return {
    ok: true,
    entry: {
      // Shifting the exponent in the text keeps 4980 mV and 4.98 V the same number to the last bit.
      value: Number(`${sign}${digits}e${shift}`) + 0,
      resolution: Number(`1e${shift - decimals}`),
      shown: `${sign === '-' ? '−' : ''}${digits} ${shiftedUnit(unit, shift)}`.trim(),
    },
  }
}

export interface ThousandQuestion {
  /** "4980 V or 4980 mV?" */
  words: string
  asWritten: string
  shifted: string
  shiftedValue: number
}

/**
 * A reading off by about 1000 (within half a decade) asks before it is stored. Null when there is nothing to ask:
 * no nominal, a nominal of zero, or a unit that takes no prefix (dB, °C, ppm, cents).
 */
export function thousandQuestion(entry: Entry, nominal: number | null, unit: string): ThousandQuestion | null {
  if (nominal === null || nominal === 0 || entry.value === 0 || shapeOf(unit) === null) return null
  const decades = Math.log10(Math.abs(entry.value / nominal))
  if (Math.abs(Math.abs(decades) - 3) > 0.5) return null
  const shift = decades > 0 ? -3 : 3
  const [figure = '', ...rest] = entry.shown.split(' ')
  const writtenUnit = rest.join(' ')
  const otherUnit = shiftedUnit(writtenUnit, shift)
  if (otherUnit === writtenUnit) return null
  return {
    words: `${entry.shown} or ${figure} ${otherUnit}?`,
    asWritten: entry.shown,
    shifted: `${figure} ${otherUnit}`,
    shiftedValue: scaled(entry.value, shift),
  }
}

/** The same figure a thousand times smaller or larger, as the person says it was meant. */
export function shiftEntry(entry: Entry, question: ThousandQuestion): Entry {
  const factor = Math.abs(question.shiftedValue) > Math.abs(entry.value) ? 3 : -3
  return { value: question.shiftedValue, resolution: scaled(entry.resolution, factor), shown: question.shifted }
}

const no = (words: string): EntryAnswer => ({ ok: false, words })

const scaled = (value: number, shift: number) => {
  const [mantissa = '0', exponent = '0'] = value.toExponential().split('e')
  return Number(`${mantissa}e${Number(exponent) + shift}`)
}

const tidied = (text: string) =>
  text
    .normalize('NFKC')
    .trim()
    .replaceAll(/[\u2212\u2013\u2014\u2010\u2011]/g, '-')
    .replaceAll(/\s+/g, ' ')
    .replace(/^([+-]) /, '$1')

/** One decimal mark and no grouping; a comma alone with three digits behind could be either, so it asks. */
function plainDigits(figure: string): string | { words: string } {
  const commas = figure.split(',').length - 1
  const points = figure.split('.').length - 1
  let plain = figure
  if (commas > 0 && points === 1 && /^\d{1,3}(,\d{3})+\.\d+$/.test(figure)) plain = figure.replaceAll(',', '')
  else if (commas > 1 && points === 0 && /^\d{1,3}(,\d{3})+$/.test(figure)) plain = figure.replaceAll(',', '')
  else if (commas === 1 && points === 0) {
    if (/^[1-9]\d{0,2},\d{3}$/.test(figure)) {
      const bare = figure.replace(',', '')
      return { words: `Is that ${figure.replace(',', '.')} or ${bare}? Write it without the comma.` }
    }
    plain = figure.replace(',', '.')
  }
  if (!/^(\d+(\.\d*)?|\.\d+)$/.test(plain))
    return { words: `"${figure}" is not a single figure. Write it with one decimal point, such as 4.98.` }
  if (plain.replace('.', '').length > 15) return { words: 'That is more digits than a meter has. Check the figure.' }
  return plain.startsWith('.') ? `0${plain}` : plain.replace(/\.$/, '')
}

/** By how many decades the written suffix differs from the check's unit. */
function shiftOf(suffix: string, unit: string): number | { words: string } {
  const written = spelled(suffix)
  const wanted = spelled(unit)
  if (written === '' || written === wanted) return 0
  const shape = shapeOf(wanted)
  const refusal = {
    words: unit === '' ? `Write just the figure, without "${suffix}".` : `"${suffix}" is not ${unit}. This check is in ${unit}.`,
  }
  if (shape === null) return refusal
  const bare = PREFIX[written]
  if (bare !== undefined) return bare - shape.exponent
  const found = shapeOf(written)
  if (found === null || found.base !== shape.base) return refusal
  // "1.02 V" for a check in V rms is what the meter shows; "1.02 Vpp" there is another quantity.
  if (found.tail !== '' && found.tail !== shape.tail) return refusal
  return found.exponent - shape.exponent
}

function spelled(unit: string): string {
  return unit
    .normalize('NFKC')
    .replaceAll('μ', 'µ')
    .replaceAll(/\s+/g, '')
    .replace(/ohms?$/i, 'Ω')
    .replace(/^u(?=$|[VAFHsWΩ])/, 'µ')
    .replace(/^K(?=$|Ω|Hz)/, 'k')
    .replace(/hz$/i, 'Hz')
    .replace(/p-p$/i, 'pp')
}

/** How what follows the unit is written out. */
const TAILS: Record<string, string> = { rms: ' rms', rmssine: ' rms sine' }

const SCALED_UNIT = new RegExp(`^([pnµmkMG]?)(${SCALED_BASES.join('|')})(pp|rmssine|rms)?$`)

function shapeOf(unit: string): UnitShape | null {
  const match = SCALED_UNIT.exec(spelled(unit))
  if (!match) return null
  const [, prefix = '', base = '', tail = ''] = match
  return { exponent: PREFIX[prefix] ?? 0, base, tail }
}

function shiftedUnit(unit: string, shift: number): string {
  if (shift === 0) return unit
  const shape = shapeOf(unit)
  const prefix = shape === null ? undefined : BY_EXPONENT.get(shape.exponent + shift)
  if (shape === null || prefix === undefined) return unit
  return `${prefix}${shape.base}${TAILS[shape.tail] ?? shape.tail}`
}
