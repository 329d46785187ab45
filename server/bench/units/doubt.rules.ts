import { type BudgetLine, beyondRange, budgetOf, isDigitUnknown, outsideBand, readAccuracy } from './accuracy.rules'
import { type Entry, readEntry } from './entry.rules'
import type { Taken } from './judged.rules'
import { combined, uncertaintyOf, uncertaintyOfMean } from './verdict.rules'

export interface Doubt {
  standard: number
  expanded: number
  /** Where it comes from, part by part. */
  lines: BudgetLine[]
  /** What the reading is doubted by beside the instrument: each a standard uncertainty. */
  further: { words: string; standard: number }[]
  /** From the instrument alone the true value lies anywhere within ±a alike; with further parts it is taken as normal. */
  shape: 'rectangle' | 'normal'
}

/** What makes a reading doubtful beside its instrument: readings that were repeated, and parts that were written down. */
export interface FurtherDoubt {
  repeats?: readonly number[] | undefined
  /** "probe 1 %; leads 0.2 Ω": as written. */
  further?: string | undefined
}

/**
 * The last figure that a meter is likely to show on a check of which nothing was read yet: one finer than the limits are
 * written with (common practice, no source). An instrument that states its counts is asked for those instead.
 */
export const likelyResolution = (check: { decimals: number }): number => 10 ** -(check.decimals + 1)

/** What is read: the unit of its check, and at which frequency, where the check says. */
export interface Quantity {
  unit: string
  frequency?: number | null
}

/** The uncertainty of a reading by this instrument, or why there is none; at its field, where something further was written wrongly. */
export function doubtOf(
  read: Pick<Entry, 'value' | 'resolution'>,
  of: Quantity,
  instrument: Taken['instrument'],
  beside: FurtherDoubt = {},
): Doubt | string | { field: string; words: string } {
  if (instrument === null) return 'Choose the instrument: this design weighs its doubt against the limits.'
  const accuracy = readAccuracy(instrument.accuracy)
  const { unit } = of
  const shown = { ...read, ...of }
  const lines = accuracy.ok ? budgetOf(accuracy, shown) : null
  if (accuracy.ok && lines !== null) {
    if (isDigitUnknown(accuracy, shown)) {
      return read.value === 0
        ? `${instrument.name} does not say how large a digit is when the reading is zero. Add its lowest range, such as 600.0 mV ±(0.5 % + 2 digits).`
        : `${instrument.name} states its accuracy in digits, and not how large one is. Add its counts, such as "6000 counts", or its ranges.`
    }
    const further = furtherOf(beside, read.value, unit)
    if ('field' in further) return further
    const rectangle = uncertaintyOf(lines.reduce((sum, { halfWidth }) => sum + halfWidth, 0))
    if (further.parts.length === 0) return { ...rectangle, lines, further: [], shape: 'rectangle' }
    const standard = combined([rectangle.standard, ...further.parts.map((part) => part.standard)])
    return { standard, expanded: 2 * standard, lines, further: further.parts, shape: 'normal' }
  }
  const band = accuracy.ok ? outsideBand(accuracy, shown) : null
  if (band !== null)
    return `${instrument.name} states an accuracy for ${unit} ${band}. Choose another instrument, or write the frequency into the checklist.`
  const top = accuracy.ok ? beyondRange(accuracy, shown) : null
  if (top !== null) return `That is beyond the highest range of ${instrument.name}, ${top}. Choose another instrument.`
  return `${instrument.name} states no accuracy for ${unit}. Choose another instrument.`
}

/** The same from the instrument, and from readings that were repeated: what it can do at a figure. */
export function instrumentDoubt(
  read: Pick<Entry, 'value' | 'resolution'>,
  of: Quantity,
  instrument: Taken['instrument'],
  repeats?: readonly number[],
): Doubt | string {
  const doubt = doubtOf(read, of, instrument, { repeats })
  return typeof doubt !== 'string' && 'field' in doubt ? doubt.words : doubt
}

type Further = { parts: Doubt['further'] } | { field: string; words: string }

function furtherOf({ repeats = [], further = '' }: FurtherDoubt, value: number, unit: string): Further {
  const parts: Doubt['further'] = []
  if (repeats.length > 1) parts.push({ words: `the spread of ${repeats.length} readings`, standard: uncertaintyOfMean(repeats) })
  for (const piece of further.split(';').map((one) => one.trim())) {
    if (piece === '') continue
    const words = piece.split(' ')
    const at = words.findIndex((word) => /\d/.test(word))
    const name = words.slice(0, at).join(' ').replace('±', '').trim()
    const figure = words.slice(at).join(' ').replace('±', '').trim()
    const share = /^(\d{1,4}(?:[.,]\d{1,4})?) ?%$/.exec(figure)?.[1]
    const read = share === undefined ? readEntry(figure, unit) : null
    if (at < 1 || (read !== null && !read.ok)) {
      const words = `"${piece.slice(0, 40)}" was not understood. Write each as what it is and how far it lets the reading be off: probe 1 %; leads 0.02${unit && ` ${unit}`}.`
      return { field: 'further', words }
    }
    const halfWidth = read?.ok ? Math.abs(read.entry.value) : (Number((share ?? '0').replace(',', '.')) / 100) * Math.abs(value)
    parts.push({ words: name, standard: uncertaintyOf(halfWidth).standard })
  }
  return { parts }
}
