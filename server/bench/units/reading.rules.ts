import type { Check, DecisionRule } from '../designs/design.contract'
import { type BudgetLine, beyondRange, budgetOf, readAccuracy } from './accuracy.rules'
import { type Entry, readEntry, shiftEntry, thousandQuestion } from './entry.rules'
import { compareMatch } from './match.rules'
import type { SoakSeen } from './soak.rules'
import { decideVerdict, probabilityOfConformity, uncertaintyOf, type Verdict } from './verdict.rules'

export interface Taken {
  check: Check
  rule: DecisionRule
  /** As typed; for a match of a file, its SHA-256. */
  entry: string
  instrument: { name: string; accuracy: string } | null
  /** Which was meant, when a reading is off by about a thousand. */
  confirmThousand?: 'as-written' | 'shifted' | undefined
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

function judgeMeasure({ check, rule, entry, instrument, confirmThousand }: Taken): Judgement {
  const answer = readEntry(entry, check.unit)
  if (!answer.ok) return no('entry', answer.words)
  const question = thousandQuestion(answer.entry, check.nominal, check.unit)
  if (question && confirmThousand === undefined) return no('confirmThousand', question.words)
  const read: Entry = question && confirmThousand === 'shifted' ? shiftEntry(answer.entry, question) : answer.entry
  const doubt = doubtOf(read, check.unit, instrument)
  if (typeof doubt === 'string') {
    return rule === 'simple'
      ? { ok: true, judged: plain(read.shown, read.value, decideVerdict(read.value, check, rule, 0)) }
      : no('instrumentId', doubt)
  }
  return {
    ok: true,
    judged: {
      ...plain(read.shown, read.value, decideVerdict(read.value, check, rule, doubt.expanded)),
      standardUncertainty: doubt.standard,
      expandedUncertainty: doubt.expanded,
      conformity: probabilityOfConformity(read.value, doubt.standard, check),
    },
  }
}

export interface Doubt {
  standard: number
  expanded: number
  /** Where it comes from, part by part. */
  lines: BudgetLine[]
}

/**
 * The last figure that a meter is likely to show on a check of which nothing was read yet: one finer than the limits are
 * written with (common practice, no source). An instrument that states its counts is asked for those instead.
 */
export const likelyResolution = (check: { decimals: number }): number => 10 ** -(check.decimals + 1)

/** The uncertainty of a reading by this instrument, or why there is none. */
export function doubtOf(read: Pick<Entry, 'value' | 'resolution'>, unit: string, instrument: Taken['instrument']): Doubt | string {
  if (instrument === null) return 'Choose the instrument: this design weighs its doubt against the limits.'
  const accuracy = readAccuracy(instrument.accuracy)
  const lines = accuracy.ok ? budgetOf(accuracy, { ...read, unit }) : null
  if (lines !== null) return { ...uncertaintyOf(lines.reduce((sum, { halfWidth }) => sum + halfWidth, 0)), lines }
  const top = accuracy.ok ? beyondRange(accuracy, { ...read, unit }) : null
  if (top !== null) return `That is beyond the highest range of ${instrument.name}, ${top}. Choose another instrument.`
  return `${instrument.name} states no accuracy for ${unit}. Choose another instrument.`
}
