import type { Check, DecisionRule } from '../designs/design.contract'
import { type BudgetLine, beyondRange, budgetOf, isDigitUnknown, readAccuracy, topOfOnlyRange } from './accuracy.rules'
import { type Entry, readEntry, shiftEntry, thousandQuestion } from './entry.rules'
import { compareMatch } from './match.rules'
import type { SoakSeen } from './soak.rules'
import {
  combined,
  conformityOfRectangle,
  decideVerdict,
  probabilityOfConformity,
  uncertaintyOf,
  uncertaintyOfMean,
  type Verdict,
} from './verdict.rules'

export interface Taken {
  check: Check
  rule: DecisionRule
  /** As typed; for a match of a file, its SHA-256. */
  entry: string
  instrument: { name: string; accuracy: string } | null
  /** Which was meant, when a reading is off by about a thousand. */
  confirmThousand?: 'as-written' | 'shifted' | undefined
  /** Said that a reading which is hardly what the meter showed is what it showed. */
  confirmOdd?: boolean | undefined
  /** What else makes it doubtful, as written: "probe 1 %; leads 0.02 V". */
  further?: string | undefined
  hours?: string | undefined
  starts?: string | undefined
  /** Of a soak: what the house saw of it; null where it saw none. */
  soakSeen?: SoakSeen | null | undefined
  /** Of a soak that ran elsewhere: its hours and cold starts are those that were written down. */
  isStated?: boolean | undefined
}

export interface Judged {
  entry: string
  value: number
  standardUncertainty: number | null
  expandedUncertainty: number | null
  conformity: number | null
  verdict: Verdict
  fileSha: string | null
  hours: number | null
  starts: number | null
}

export type Judgement = { ok: true; judged: Judged } | { ok: false; field: string; words: string }

/** Reads what was typed for a check and gives the verdict, or says at which field to do what. */
export function judgeReading(taken: Taken): Judgement {
  switch (taken.check.kind) {
    case 'yesno':
      return judgeYesNo(taken)
    case 'match':
      return judgeMatch(taken)
    case 'soak':
      return judgeSoak(taken)
    case 'count':
      return judgeCount(taken)
    case 'measure':
      return judgeMeasure(taken)
  }
}

const refuse = (field: string, words: string) => ({ ok: false, field, words }) as const
const no: (field: string, words: string) => Judgement = refuse

const plain = (entry: string, value: number, verdict: Verdict): Judged => ({
  entry,
  value,
  standardUncertainty: null,
  expandedUncertainty: null,
  conformity: null,
  verdict,
  fileSha: null,
  hours: null,
  starts: null,
})

function judgeYesNo({ entry }: Taken): Judgement {
  const said = entry.normalize('NFKC').trim().toLowerCase()
  if (['yes', 'y'].includes(said)) return { ok: true, judged: plain('yes', 1, 'pass') }
  if (['no', 'n'].includes(said)) return { ok: true, judged: plain('no', 0, 'fail') }
  return no('entry', 'Answer yes or no.')
}

function judgeMatch({ check, entry }: Taken): Judgement {
  const answer = compareMatch(entry, check.expects)
  if (!answer.ok) return no('entry', answer.words)
  const isHash = answer.read.length === 64
  const shown = isHash ? `${answer.read.slice(0, 16)}…` : `0x${answer.read}`
  return {
    ok: true,
    judged: { ...plain(shown, answer.isSame ? 1 : 0, answer.isSame ? 'pass' : 'fail'), fileSha: isHash ? answer.read : null },
  }
}

function judgeCount({ check, rule, entry }: Taken): Judgement {
  const answer = readEntry(entry, check.unit)
  if (!answer.ok) return no('entry', answer.words)
  const { value, shown } = answer.entry
  if (!Number.isInteger(value) || value < 0) return no('entry', 'A count is a whole number. Count again.')
  return { ok: true, judged: plain(shown, value, decideVerdict(value, check, rule, 0)) }
}

/** Faults fail a soak whenever they come; without one it is not over before its hours and cold starts are. */
function judgeSoak(taken: Taken): Judgement {
  const { check, entry } = taken
  const faults = readEntry(entry, check.unit)
  if (!faults.ok) return no('entry', 'Write how many faults there were, such as 0.')
  const { value } = faults.entry
  if (!Number.isInteger(value) || value < 0) return no('entry', 'Faults are counted in whole numbers.')
  const ran = howLong(taken)
  if ('ok' in ran) return ran
  const { hours, starts } = ran
  const passed = value <= (check.upper ?? 0)
  if (passed && hours < (check.soakHours ?? 0)) {
    return no('hours', `It ran ${hours} of ${check.soakHours} h. Enter the soak when it is over, or at a fault.`)
  }
  if (passed && starts < (check.coldStarts ?? 0)) {
    return no('starts', `It had ${starts} of ${check.coldStarts} cold starts. Enter the soak when it is over, or at a fault.`)
  }
  const stated = taken.isStated ? `, ${STATED}` : ''
  const shown = `${value} ${check.unit || 'faults'} in ${hours} h, ${starts} cold starts${stated}`
  return { ok: true, judged: { ...plain(shown, value, passed ? 'pass' : 'fail'), hours, starts } }
}

/** Said wherever the hours of a soak are those that somebody wrote down. */
const STATED = 'stated, not observed here'

/** Hours and cold starts are those that the house saw; of a soak that ran elsewhere, those that somebody states. */
function howLong({ check, hours, starts, soakSeen, isStated }: Taken): SoakSeen | Extract<Judgement, { ok: false }> {
  if (!isStated) {
    if (soakSeen) return soakSeen
    return refuse('entry', 'No soak of this check ran here. Start it, or say that it ran elsewhere and write down its hours.')
  }
  if (soakSeen) return refuse('isStated', 'A soak of this check ran here, so its hours come from that run. Or stop it without a result.')
  const ran = readEntry(hours ?? '', 'h')
  if (!ran.ok || ran.entry.value < 0) return refuse('hours', `Write how many hours it ran, such as ${check.soakHours ?? 24}.`)
  const cold = readEntry(starts ?? '', '')
  if (!cold.ok || !Number.isInteger(cold.entry.value) || cold.entry.value < 0)
    return refuse('starts', 'Write how many cold starts it had, such as 6.')
  return { hours: ran.entry.value, starts: cold.entry.value }
}

function judgeMeasure(taken: Taken): Judgement {
  const bound = readBound(taken)
  if (bound) return bound
  const { check, rule, entry, instrument, confirmThousand } = taken
  const several = readSeveral(entry, check.unit)
  if (several && !several.ok) return no('entry', several.words)
  const answer = several ?? readEntry(entry, check.unit)
  if (!answer.ok) return no('entry', answer.words)
  const question = several ? null : thousandQuestion(answer.entry, check.nominal, check.unit)
  if (question && confirmThousand === undefined) return no('confirmThousand', question.words)
  const read: Entry = question && confirmThousand === 'shifted' ? shiftEntry(answer.entry, question) : answer.entry
  const odd = question ? null : oddity(read, check)
  if (odd !== null && !taken.confirmOdd) return no('confirmOdd', odd)
  const doubt = doubtOf(read, check.unit, instrument, { repeats: several?.figures, further: taken.further })
  if (typeof doubt === 'string') {
    return rule === 'simple' && !taken.further
      ? { ok: true, judged: plain(read.shown, read.value, decideVerdict(read.value, check, rule, 0)) }
      : no('instrumentId', doubt)
  }
  if ('field' in doubt) return no(doubt.field, doubt.words)
  return {
    ok: true,
    judged: {
      ...plain(read.shown, read.value, decideVerdict(read.value, check, rule, doubt.expanded)),
      standardUncertainty: doubt.standard,
      expandedUncertainty: doubt.expanded,
      conformity:
        doubt.shape === 'rectangle'
          ? conformityOfRectangle(read.value, doubt.standard * Math.sqrt(3), check)
          : probabilityOfConformity(read.value, doubt.standard, check),
    },
  }
}

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

/** The uncertainty of a reading by this instrument, or why there is none; at its field, where something further was written wrongly. */
export function doubtOf(
  read: Pick<Entry, 'value' | 'resolution'>,
  unit: string,
  instrument: Taken['instrument'],
  beside: FurtherDoubt = {},
): Doubt | string | { field: string; words: string } {
  if (instrument === null) return 'Choose the instrument: this design weighs its doubt against the limits.'
  const accuracy = readAccuracy(instrument.accuracy)
  const shown = { ...read, unit }
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
  const top = accuracy.ok ? beyondRange(accuracy, shown) : null
  if (top !== null) return `That is beyond the highest range of ${instrument.name}, ${top}. Choose another instrument.`
  return `${instrument.name} states no accuracy for ${unit}. Choose another instrument.`
}

/** The same from the instrument, and from readings that were repeated: what it can do at a figure. */
export function instrumentDoubt(
  read: Pick<Entry, 'value' | 'resolution'>,
  unit: string,
  instrument: Taken['instrument'],
  repeats?: readonly number[],
): Doubt | string {
  const doubt = doubtOf(read, unit, instrument, { repeats })
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

/** "8.02; 8.03; 8.01": up to ten readings of the same, whose mean is judged. Null where there is one. */
function readSeveral(text: string, unit: string): ({ ok: true; entry: Entry; figures: number[] } | { ok: false; words: string }) | null {
  const pieces = text.split(';').map((piece) => piece.trim())
  if (pieces.length < 2) return null
  if (pieces.length > MOST_REPEATS) return { ok: false, words: `Write at most ${MOST_REPEATS} readings, with semicolons between.` }
  const entries: Entry[] = []
  for (const piece of pieces) {
    const answer = readEntry(piece, unit)
    if (!answer.ok) return answer
    entries.push(answer.entry)
  }
  const figures = entries.map(({ value }) => value)
  const mean = figures.reduce((sum, one) => sum + one, 0) / figures.length
  const spread = Math.sqrt(figures.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (figures.length - 1))
  const resolution = Math.max(...entries.map((one) => one.resolution))
  const decimals = Math.min(12, Math.max(0, -Math.round(Math.log10(resolution)) + 1))
  const value = Number(mean.toFixed(decimals))
  const shown = `${value.toFixed(decimals).replace('-', '−')} ${unit}`.trim()
  return {
    ok: true,
    figures,
    entry: { value, resolution, shown: `${shown}, mean of ${figures.length}, spread ${Number(spread.toPrecision(2))}` },
  }
}

/** What is typed, as far as its doubt goes: the figure or the mean of several, with each of them; null while it cannot be read. */
export function readFigures(text: string, unit: string): { value: number; resolution: number; repeats?: readonly number[] } | null {
  const several = readSeveral(text, unit)
  if (several) return several.ok ? { ...several.entry, repeats: several.figures } : null
  const answer = readEntry(text, unit)
  return answer.ok ? answer.entry : null
}

const MOST_REPEATS = 10

const BOUND = /^(?:(OL|O\.L|over|more than|>)|(under|less than|<))(.*)$/i

/** Over or under its range is an answer too: "more than 60 MΩ" is at least 10 MΩ, and not at most 5. */
function readBound({ check, entry, instrument }: Taken): Judgement | null {
  const match = BOUND.exec(entry.normalize('NFKC').trim().replace(/^\+/, ''))
  if (!match) return null
  const [, over, , written = ''] = match
  const rest = written.trimStart()
  const accuracy = instrument ? readAccuracy(instrument.accuracy) : null
  const stated = over && rest === '' && accuracy?.ok ? topOfOnlyRange(accuracy, check.unit) : null
  const read = rest === '' ? null : readEntry(rest, check.unit)
  if (read && !read.ok) return no('entry', read.words)
  const value = read?.ok ? read.entry.value : stated?.value
  if (value === undefined) {
    return no(
      'entry',
      `Write the ${over ? 'top' : 'bottom'} of the range in use with it, such as "${over ? 'more than 60' : 'less than 0.1'}${check.unit && ` ${check.unit}`}": how far it goes is the reading.`,
    )
  }
  const words = `${over ? 'more' : 'less'} than ${read?.ok ? read.entry.shown : stated?.words}`
  const { lower, upper } = check
  if (over) {
    if (upper !== null && value >= upper) return { ok: true, judged: plain(words, value, 'fail') }
    if (upper === null && lower !== null && value >= lower) return { ok: true, judged: plain(words, value, 'pass') }
  } else {
    if (lower !== null && value <= lower) return { ok: true, judged: plain(words, value, 'fail') }
    if (lower === null && upper !== null && value <= upper) return { ok: true, judged: plain(words, value, 'pass') }
  }
  return no('entry', `"${words}" does not decide this check. Choose another range or instrument, and write its figure.`)
}

/** By how many decades a reading may be off its nominal before it is asked about. */
const ODD_DECADES = 5

/** A reading that is hardly what the meter showed, as a question; null where there is nothing to ask. */
function oddity({ value, shown }: Entry, { nominal, lower, upper, unit }: Check): string | null {
  if (value < 0 && /^[pnµmkMG]?(?:Ω|F|Hz|s)$/.test(unit)) return `${shown}: nothing has less than 0 ${unit}. Is that what it shows?`
  if (nominal === null || nominal === 0 || value === 0) return null
  // Around a nought that only an upper limit bounds, either sign is a small figure and no slip.
  const isTurned = (value < 0 && nominal > 0 && lower !== null && lower >= 0) || (value > 0 && nominal < 0 && upper !== null && upper <= 0)
  if (isTurned && !/^dB|°C|ppm|cents/.test(unit)) {
    return `${shown}, where ${nominal} ${unit} is expected: is the sign right?`
  }
  const decades = Math.abs(Math.log10(Math.abs(value / nominal)))
  return decades >= ODD_DECADES ? `${shown}, where ${nominal} ${unit} is expected: is that what it shows?` : null
}
