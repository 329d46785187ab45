/**
 * An instrument's accuracy as its maker writes it: `±(0.5 % + 2 digits)`, `±0.05 V`, `±20 ppm`, several for several
 * quantities and ranges, apart by semicolons: `V ±(0.5 % + 2 digits)`, `6.000 V ±(0.5 % + 2 digits)`,
 * `60.00 V ±(0.8 % + 0.1 % of range)`, `6000 counts`; with the frequencies between which it holds: `V rms 45 Hz to 1 kHz ±1 %`,
 * `Vpp up to 20 MHz ±3 %`. DC, RMS, the RMS of a sine alone and peak to peak are quantities of their own.
 */
export interface AccuracyTerm {
  /** The quantity it holds for, by its base unit ("V", "Ω"); null for any. */
  quantity: string | null
  /** The range it holds in: the end of its scale and one step of its last digit, in base units; null for any. */
  range: { end: number; digit: number; words: string } | null
  /** The frequencies between which it holds, in hertz; null where the leaflet names none. */
  band: Band | null
  /** Part of the reading: 0.005 for 0.5 %. */
  ofReading: number
  /** Part of the end of the range. */
  ofRange: number
  digits: number
  /** A fixed part, in base units of the quantity. */
  fixed: number
  /** The quantity that the fixed part is in; null when there is none. */
  fixedIn: string | null
}

export interface Band {
  from: number
  to: number
  words: string
}

export interface Accuracy {
  terms: AccuracyTerm[]
  /** How many steps the display has; null when that is not stated. */
  counts: number | null
}

export type AccuracyAnswer = ({ ok: true } & Accuracy) | { ok: false; words: string }

const PREFIX: Record<string, number> = { p: -12, n: -9, µ: -6, m: -3, '': 0, k: 3, M: 6, G: 9 }
/** A quantity by its base unit; peak to peak and RMS are quantities of their own, and a plain V is DC. */
const QUANTITY = /^(p|n|µ|m|k|M|G|)(V|A|Ω|Hz|s|F|H|W|°C|dB|K)(pp|rmssine|rms|m|V)?$/
const EXAMPLE = 'Write it as the maker does, such as ±(0.5 % + 2 digits), or with a range, such as 6.000 V ±(0.5 % + 2 digits).'

export function readAccuracy(text: string): AccuracyAnswer {
  const tidy = text.normalize('NFKC').replaceAll('μ', 'µ').replaceAll('+/-', '±').trim()
  if (tidy === '') return { ok: false, words: EXAMPLE }
  if (tidy.length > 300) return { ok: false, words: 'Keep the accuracy under 300 characters.' }
  const terms: AccuracyTerm[] = []
  let counts: number | null = null
  for (const piece of tidy.split(';').map((part) => part.trim())) {
    if (piece === '') continue
    const steps = /^(\d{3,8})\s*counts?$/i.exec(piece)
    if (steps) {
      counts = Number(steps[1])
      continue
    }
    const term = readTerm(piece)
    if (term === null) return { ok: false, words: `"${piece.slice(0, 60)}" was not understood. ${EXAMPLE}` }
    if (terms.some((other) => isSameHead(other, term))) {
      const of = term.range?.words ?? term.quantity ?? 'every quantity'
      return { ok: false, words: `There are two accuracies for ${of}. Keep one.` }
    }
    terms.push(term)
  }
  return terms.length > 0 ? { ok: true, terms, counts } : { ok: false, words: EXAMPLE }
}

const isSameHead = (one: AccuracyTerm, other: AccuracyTerm) =>
  one.quantity === other.quantity &&
  one.range?.end === other.range?.end &&
  one.band?.from === other.band?.from &&
  one.band?.to === other.band?.to

export interface Shown {
  value: number
  /** One step of the last digit as it was written. */
  resolution: number
  unit: string
  /** At how many hertz it was read; absent or null where nobody says. */
  frequency?: number | null | undefined
}

/** The part of its accuracy that holds for a reading: that of the smallest range it lies in. Null when none does. */
export function termFor({ terms }: Pick<Accuracy, 'terms'>, { value, unit: text, frequency = null }: Shown): AccuracyTerm | null {
  const { quantity, scale } = unitOf(text)
  const named = termsNaming(terms, quantity)
  const own = named.filter(({ band }) => band === null || (frequency !== null && frequency >= band.from && frequency <= band.to))
  const size = Math.abs(value) * scale
  const ranged = own
    .filter(({ range }) => range !== null && size <= range.end * (1 + 1e-12))
    .sort((a, b) => (a.range?.end ?? 0) - (b.range?.end ?? 0))
  const term =
    ranged[0] ?? own.find(({ range }) => range === null) ?? (named.length === 0 ? terms.find((one) => one.quantity === null) : undefined)
  return !term || (term.fixedIn !== null && term.quantity === null && term.fixedIn !== quantity) ? null : term
}

/** The terms of a quantity. What reads the RMS of anything reads that of a sine; a meter that is right for a sine alone reads no other. */
function termsNaming(terms: readonly AccuracyTerm[], quantity: string | null): AccuracyTerm[] {
  const own = terms.filter((one) => one.quantity !== null && one.quantity === quantity)
  if (own.length > 0 || !quantity?.endsWith(SINE)) return own
  return terms.filter((one) => one.quantity === quantity.slice(0, -SINE.length))
}

const SINE = 'sine'

/** Why an instrument says nothing of a reading, where that is for its frequency; null when it is for something else. */
export function outsideBand({ terms }: Pick<Accuracy, 'terms'>, { unit, frequency = null }: Shown): string | null {
  const named = termsNaming(terms, unitOf(unit).quantity)
  const bands = named.flatMap(({ band }) => band ?? [])
  const holds = ({ from, to }: Band) => frequency !== null && frequency >= from && frequency <= to
  if (bands.length < named.length || bands.length === 0 || bands.some(holds)) return null
  const said = [...new Set(bands.map(({ words }) => words))].join(', ')
  return frequency === null
    ? `only ${said}, and this check does not say at which frequency it is read`
    : `only ${said}, and this check is at ${hertzWords(frequency)}`
}

/** "455 kHz". */
export function hertzWords(hertz: number): string {
  const [size, prefix] = hertz >= 1e9 ? [1e9, 'G'] : hertz >= 1e6 ? [1e6, 'M'] : hertz >= 1e3 ? [1e3, 'k'] : [1, '']
  return `${plain(hertz / size)} ${prefix}Hz`
}

/** One line of an uncertainty budget: what it comes from, and how far it lets the true value be off, in the reading's unit. */
export interface BudgetLine {
  words: string
  halfWidth: number
}

/**
 * Where the doubt of a reading comes from, part by part; the parts add up to the half-width `a` of the interval in which
 * the true value lies. Null when the instrument states nothing for the reading.
 */
export function budgetOf(accuracy: Accuracy, shown: Shown): BudgetLine[] | null {
  const term = termFor(accuracy, shown)
  if (!term) return null
  const { scale } = unitOf(shown.unit)
  const size = Math.abs(shown.value)
  const digit = digitOf(accuracy, term, shown)
  const lines: BudgetLine[] = []
  const add = (words: string, halfWidth: number) => {
    if (halfWidth > 0) lines.push({ words, halfWidth })
  }
  add(`${share(term.ofReading)} of the reading`, term.ofReading * size)
  if (term.range) add(`${share(term.ofRange)} of the ${term.range.words} range`, (term.ofRange * term.range.end) / scale)
  add(`${term.digits} ${term.digits === 1 ? 'digit' : 'digits'} of ${plain(digit)} ${shown.unit}`.trim(), term.digits * digit)
  add('a fixed part', term.fixed / scale)
  return lines
}

/** Half-width `a` of the interval in which the true value lies, in the unit of the reading; null when nothing is stated for it. */
export function halfWidth(terms: readonly AccuracyTerm[], shown: Shown, counts: number | null = null): number | null {
  const lines = budgetOf({ terms: [...terms], counts }, shown)
  return lines === null ? null : lines.reduce((sum, line) => sum + line.halfWidth, 0)
}

/** Why an instrument says nothing of a reading, where that is for its ranges; null when it is for the quantity. */
export function beyondRange({ terms }: Pick<Accuracy, 'terms'>, shown: Shown): string | null {
  const { quantity } = unitOf(shown.unit)
  const own = terms.filter((one) => one.quantity === quantity)
  const top = [...own].sort((a, b) => (b.range?.end ?? 0) - (a.range?.end ?? 0))[0]
  return top?.range && termFor({ terms }, shown) === null ? top.range.words : null
}

/** A digit is one step of the range's scale, or of the display by its counts; where neither is known, the last digit as written. */
function digitOf({ counts }: Accuracy, term: AccuracyTerm, { value, resolution, unit }: Shown): number {
  const { scale } = unitOf(unit)
  if (term.range) return term.range.digit / scale
  if (counts === null || value === 0) return resolution
  return 10 ** Math.ceil(Math.log10(Math.abs(value) / counts) - 1e-9)
}

/**
 * Digits are stated, and neither a range nor counts say how large one is: then the doubt would hang on how many noughts
 * somebody types. A nought alone lies in no range that the counts could give.
 */
export function isDigitUnknown(accuracy: Accuracy, shown: Shown): boolean {
  const term = termFor(accuracy, shown)
  return term !== null && term.digits > 0 && term.range === null && (accuracy.counts === null || shown.value === 0)
}

/** The end of the one range that is written in this very unit; null where none is, or several, since nobody read which was in use. */
export function topOfOnlyRange({ terms }: Pick<Accuracy, 'terms'>, unit: string): { value: number; words: string } | null {
  const { quantity, scale } = unitOf(unit)
  const ranges = terms.flatMap((term) => (term.quantity === quantity && term.range ? [term.range] : []))
  const own = ranges.filter(({ words }) => unitOf(words.replace(FIGURE, '')).scale === scale)
  return own.length === 1 && own[0] ? { value: own[0].end / scale, words: own[0].words } : null
}

const plain = (figure: number) => String(Number(figure.toPrecision(6)))

const share = (part: number) => (part < 0.0005 ? `${plain(part * 1e6)} ppm` : `${plain(part * 100)} %`)

const bare = (unit: string) =>
  unit
    .normalize('NFKC')
    .replaceAll('μ', 'µ')
    .replaceAll(/\s+/g, '')
    .replace(/(V|A)(?:AC|~)$/i, '$1rms')
    .replace(/(V|A)DC$/i, '$1')

const quantityOf = (unit: RegExpExecArray | null): string | null =>
  unit === null ? null : `${unit[2] ?? ''}${unit[3] === 'pp' || unit[3]?.startsWith('rms') ? unit[3] : ''}`

function unitOf(text: string): { quantity: string | null; scale: number } {
  const unit = QUANTITY.exec(bare(text))
  return { quantity: quantityOf(unit), scale: Number(`1e${PREFIX[unit?.[1] ?? ''] ?? 0}`) }
}

/** A figure at the head of a text. */
const FIGURE = /^\d+(?:[.,]\d+)?/

function readTerm(text: string): AccuracyTerm | null {
  const at = text.indexOf('±')
  const { band, rest: named } = bandIn(text.slice(0, at).trim().replace(/:$/, '').trim())
  const body = text
    .slice(at + 1)
    .trim()
    .replace(/^\(/, '')
    .replace(/\)$/, '')
  if (at < 0 || named.includes(':') || body === '' || /[()]/.test(body)) return null
  const head = named === '' ? { quantity: null, range: null } : readHead(named)
  if (head === null) return null
  const term: AccuracyTerm = { ...head, band, ofReading: 0, ofRange: 0, digits: 0, fixed: 0, fixedIn: null }
  for (const part of body.split('+')) {
    const figure = FIGURE.exec(part.trim())?.[0]
    if (figure === undefined) return null
    const amount = Number(figure.replace(',', '.'))
    const what = part.trim().slice(figure.length).trim()
    if (what === '' && term.ofReading + term.fixed === 0) return null
    const unit = QUANTITY.exec(bare(what))
    if (/^%( of reading| rdg)?$/i.test(what)) term.ofReading += amount / 100
    else if (/^ppm( of reading)?$/i.test(what)) term.ofReading += amount / 1e6
    else if (head.range && /^%\s*(of range|of full scale|f\.?s\.?|rng)$/i.test(what)) term.ofRange += amount / 100
    else if (what === '' || /^(digits?|dgts?|d|counts?)$/i.test(what)) term.digits += amount
    else if (unit && (head.quantity === null || unit[2] === head.quantity.replace(/pp$|rms$|rmssine$/, ''))) {
      term.fixed += amount * Number(`1e${PREFIX[unit[1] ?? ''] ?? 0}`)
      term.fixedIn = head.quantity ?? quantityOf(unit)
    } else return null
  }
  return term
}

/** "45 Hz to 1 kHz", "45-400 Hz", "DC to 20 MHz", "up to 20 MHz" at the end of a head. */
function bandIn(head: string): { band: Band | null; rest: string } {
  const match = BAND.exec(head) ?? UP_TO.exec(head)
  if (!match) return { band: null, rest: head }
  const [all, low = '0', lowUnit = '', high = '', highUnit = ''] = match
  const to = hertzOf(high, highUnit)
  const from = low === '' || /^dc$/i.test(low) ? 0 : hertzOf(low, lowUnit || highUnit)
  const words = from === 0 ? `up to ${hertzWords(to)}` : `from ${hertzWords(from)} to ${hertzWords(to)}`
  const rest = head.slice(0, match.index).trim().replace(/[,(]$/, '').trim()
  return to > from && all !== '' ? { band: { from, to, words }, rest } : { band: null, rest: head }
}

const BAND = /(?:^| )(?:from )?(\d{1,9}(?:[.,]\d{1,6})?|DC) ?([kMG]?Hz)? ?(?:to|-|–) ?(\d{1,9}(?:[.,]\d{1,6})?) ?([kMG]?Hz)$/i
const UP_TO = /(?:^| )(?:up to|to)()() (\d{1,9}(?:[.,]\d{1,6})?) ?([kMG]?Hz)$/i
const hertzOf = (figure: string, unit: string) =>
  Number(`${figure.replace(',', '.')}e${{ k: 3, m: 6, g: 9 }[unit.charAt(0).toLowerCase()] ?? 0}`)

/** "V", or a range such as "6.000 V": the end of its scale, written with the digits that the display shows. */
function readHead(text: string): Pick<AccuracyTerm, 'quantity' | 'range'> | null {
  const written = FIGURE.exec(text)?.[0]
  const named = text.slice(written?.length ?? 0).trim()
  const unit = /\s\S+\s/.test(named.replace(/ sine$/, '')) ? null : QUANTITY.exec(bare(named))
  if (!unit) return null
  const quantity = quantityOf(unit)
  const figure = written?.replace(',', '.')
  if (figure === undefined) return { quantity, range: null }
  const exponent = PREFIX[unit[1] ?? ''] ?? 0
  const decimals = figure.split('.')[1]?.length ?? 0
  const end = Number(`${figure}e${exponent}`)
  if (end <= 0) return null
  return { quantity, range: { end, digit: Number(`1e${exponent - decimals}`), words: `${written} ${named}` } }
}
