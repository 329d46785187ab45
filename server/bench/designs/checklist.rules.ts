import type { ColumnWanted, TableRow } from '#kernel/table'
import { AT_HOME_COLUMNS, MOST_AT_HOME, oneTooMany, readAtHome } from './at-home.rules'
import { flagIn, keysIn, namesIn } from './cells.rules'
import { CHECK_KINDS, type Check, type CheckKind, type Flaw, STAGE_KINDS, type StageKind } from './design.contract'
import { decimalsIn, isFigure, type Limit, readLimit, tidyFigure } from './limits.rules'
import { withMissingColumns } from './missing-columns.rules'
import { gatesByKind, kindsOfStages } from './stage-kinds.rules'

const column = (name: string, isRequired: boolean, ...also: string[]): ColumnWanted => ({ name, isRequired, also })

const STEP_KEY = /^[A-Za-z]{0,4}\d{1,4}[a-z]?$/
const areKeys = (_heading: string, cells: readonly string[]) =>
  cells.length > 0 && cells.every((cell) => STEP_KEY.test(cell)) && cells.some((cell) => /^[A-Za-z]/.test(cell))
    ? 'what stands in it reads as keys of steps'
    : null

/** Four must be there: stage, title, unit and limits, which may stand in one column or in two. What else is missing is taken as the reading says. */
export const CHECKLIST_COLUMNS: readonly ColumnWanted[] = [
  { ...column('step', false, 'key', 'no', 'step key'), guess: areKeys },
  column('stage', true, 'phase', 'section'),
  column('hold', false, 'hold point'),
  column('title', true, 'check', 'what', 'description'),
  column('kind', false, 'type'),
  column('nominal', false, 'target', 'typical'),
  { ...column('limits', true, 'limit', 'range', 'allowed'), orElse: ['lower', 'upper'] },
  column('lower', false, 'min', 'minimum', 'low'),
  column('upper', false, 'max', 'maximum', 'high'),
  column('unit', true, 'units'),
  column('after', false, 'needs', 'depends on'),
  column('exercises', false, 'block', 'blocks'),
  column('powered', false, 'power'),
  column('minutes', false, 'time'),
  column('hours', false, 'soak hours'),
  column('starts', false, 'cold starts'),
  column('plain', false, 'in plain words', 'how'),
  column('caution', false, 'warning'),
  column('on failure', false, 'if it fails'),
  column('expects', false, 'expected', 'sha256', 'sha-256'),
  column('stage kind', false, 'kind of stage'),
  column('gates power', false, 'before power', 'power gate'),
  column('four eyes', false, 'second person'),
  column('frequency', false, 'at frequency'),
  column(AT_HOME_COLUMNS.touch, false, 'where to touch', 'at home'),
  column(AT_HOME_COLUMNS.needs, false, 'what you need', 'what one needs'),
  column(AT_HOME_COLUMNS.signs, false, 'without a meter', 'listen for'),
]

type Complain = (line: number, column: string, words: string) => void

export interface ChecklistRead {
  checks: { line: number; check: Check; hint: string | null }[]
  flaws: Flaw[]
}

const ALL_COLUMNS: ReadonlySet<string> = new Set(CHECKLIST_COLUMNS.map(({ name }) => name))

/**
 * Reads the rows of a checklist, one check a row, and says what is wrong with each. `has` are the columns that the list
 * has: what stands in none is worked out, and asked about at the first row. `block` is that of a list that names none.
 */
export function readChecklist(
  written: readonly TableRow[],
  { has = ALL_COLUMNS, block = '' }: { has?: ReadonlySet<string>; block?: string | undefined } = {},
): ChecklistRead {
  const flaws: Flaw[] = []
  const complain: Complain = (line, where, words) => flaws.push({ list: 'checklist', line, column: where, words })
  const { rows, asked } = withMissingColumns(written, has, block, complain)
  const read = rows.map((row, index) => ({ line: row.line, check: readCheck(row, index + 1, complain) }))
  const kinds = kindsOfStages(read.map(({ check }) => check))
  const checks = read.map(({ line, check: { said, ...check } }, index) => {
    const stageKind = said.stageKind ?? kinds.get(check.stage) ?? 'other'
    return {
      line,
      check: { ...check, stageKind, gatesPower: said.gatesPower ?? gatesByKind(stageKind, check) },
      hint: index === 0 && asked.length > 0 ? asked.join(' ') : null,
    }
  })
  const lineOf = new Map<string, number>()
  for (const { line, check } of checks) {
    const before = lineOf.get(check.key)
    if (before !== undefined) complain(line, 'step', `${check.key} is already on line ${before}. Give every step its own key.`)
    lineOf.set(check.key, line)
  }
  for (const { line, check } of checks) {
    for (const key of check.after) {
      if (key === check.key) complain(line, 'after', `${key} cannot come after itself.`)
      else if (!lineOf.has(key)) complain(line, 'after', `${key} is not a step of this list. Write the key of one that is.`)
    }
  }
  const more = oneTooMany(checks)
  if (more) complain(more.line, AT_HOME_COLUMNS.touch, `Open ${MOST_AT_HOME} checks for home at most. ${more.check.key} is one more.`)
  return { checks, flaws }
}

/** A check, and what its own columns say of its stage and of power; what they leave open follows from the whole list. */
type ReadCheck = Omit<Check, 'stageKind' | 'gatesPower'> & { said: { stageKind: StageKind | null; gatesPower: boolean | null } }

function readCheck({ line, cells }: TableRow, seq: number, complain: Complain): ReadCheck {
  const cell = (name: string) => cells[name] ?? ''
  const kind = kindIn(cell('kind'), line, complain)
  const isMeasured = kind === 'measure' || kind === 'count' || kind === 'soak'
  const figure = (name: string) => (isMeasured ? figureIn(cell(name), name, line, complain) : null)
  const required = (name: string, most: number) => {
    const text = cell(name)
    if (text === '') complain(line, name, `Write the ${name}.`)
    if (text.length > most) complain(line, name, `Keep the ${name} under ${most} characters.`)
    return text
  }
  const flag = (name: string) => {
    const answer = flagIn(cell(name), name)
    if (answer === null) complain(line, name, `"${cell(name)}" is neither yes nor no. Write y or n.`)
    return answer ?? false
  }
  const key = cell('step')
  if (!STEP_KEY.test(key)) complain(line, 'step', `"${key}" is not a key. Write letters and a number, such as B6.`)
  const nominal = figure('nominal')
  const limit = (side: 'lower' | 'upper'): Limit | null => {
    const said = nominal === null ? null : { text: cell('nominal'), value: nominal }
    const answer = isMeasured ? readLimit(cell(side), side, said) : ({ ok: true, limit: null } as const)
    if (!answer.ok) complain(line, side, answer.words)
    return answer.ok ? answer.limit : null
  }
  const [below, above] = [limit('lower'), limit('upper')]
  const [lower, upper] = [below?.value ?? null, above?.value ?? null]
  const unit = kind === 'match' ? '' : cell('unit')
  if (lower !== null && upper !== null && lower > upper)
    complain(line, 'upper', `The upper limit ${upper} is below the lower ${lower}. Swap them.`)
  if (kind === 'count' && lower !== null && upper !== null && Math.ceil(lower) > Math.floor(upper))
    complain(line, 'upper', `No whole number lies from ${lower} to ${upper}, so no count could pass.`)
  if (isMeasured && lower === null && upper === null && cell('lower') === '' && cell('upper') === '')
    complain(line, 'lower', 'Give at least one limit; without one nothing can fail.')
  if (kind === 'measure' && unit === '') complain(line, 'unit', 'Write the unit, such as V or kΩ.')
  const exercises = namesIn(cell('exercises'))
  if (exercises.length === 0) complain(line, 'exercises', 'Name the block that this check exercises.')
  const hours = kind === 'soak' ? figureIn(cell('hours'), 'hours', line, complain) : null
  if (kind === 'soak' && (hours === null || hours <= 0)) complain(line, 'hours', 'A soak needs its hours, such as 24.')
  const starts = kind === 'soak' ? figureIn(cell('starts'), 'starts', line, complain) : null
  const minutes = figureIn(cell('minutes'), 'minutes', line, complain)
  if (minutes === null || minutes < 0) complain(line, 'minutes', 'Write how many minutes it takes, such as 3.')
  const atHome = readAtHome(
    {
      kind,
      title: cell('title'),
      caution: cell('caution'),
      touch: cell(AT_HOME_COLUMNS.touch),
      needs: cell(AT_HOME_COLUMNS.needs),
      signs: cell(AT_HOME_COLUMNS.signs),
    },
    (where, words) => complain(line, where, words),
  )
  return {
    key,
    seq,
    stage: required('stage', 40),
    isHold: flag('hold'),
    fourEyes: flag('four eyes'),
    said: {
      stageKind: stageKindIn(cell('stage kind'), line, complain),
      gatesPower: cell('gates power') === '' ? null : flag('gates power'),
    },
    title: required('title', 160),
    kind,
    nominal,
    lower,
    upper,
    ...(below?.as == null && above?.as == null ? {} : { limitsAs: { lower: below?.as ?? null, upper: above?.as ?? null } }),
    decimals: Math.max(isMeasured ? decimalsIn(cell('nominal')) : 0, below?.decimals ?? 0, above?.decimals ?? 0),
    unit,
    frequency: kind === 'measure' ? frequencyIn(cell('frequency'), line, complain) : null,
    after: [...new Set(keysIn(cell('after')))],
    exercises,
    isPowered: flag('powered'),
    minutes: minutes ?? 0,
    soakHours: hours,
    coldStarts: starts === null ? null : Math.round(starts),
    plain: cell('plain').slice(0, 500),
    caution: cell('caution').slice(0, 500),
    onFailure: cell('on failure').slice(0, 500),
    expects: kind === 'match' ? expectsIn(cell('expects'), line, complain) : null,
    ...(atHome && { atHome }),
  }
}

function kindIn(cell: string, line: number, complain: Complain): CheckKind {
  const said = cell.toLowerCase().replaceAll(/[^a-z]/g, '')
  const found = CHECK_KINDS.find((kind) => kind === said) ?? (said === 'measurement' ? 'measure' : undefined)
  if (!found) complain(line, 'kind', `"${cell}" is not a kind of check. Write measure, count, match, yesno or soak.`)
  return found ?? 'yesno'
}

function stageKindIn(cell: string, line: number, complain: Complain): StageKind | null {
  const said = cell.normalize('NFKC').trim().toLowerCase().replaceAll(' ', '-')
  if (said === '') return null
  const found = STAGE_KINDS.find((kind) => kind === said)
  if (!found) complain(line, 'stage kind', `"${cell}" is not a kind of stage. Write visual, cold, rails, close-out or other.`)
  return found ?? null
}

/** "1 kHz", "50": hertz, where nothing else is written. */
function frequencyIn(cell: string, line: number, complain: Complain): number | null {
  if (cell === '') return null
  const [, figure = '', prefix = ''] = /^(\d{1,9}(?:[.,]\d{1,6})?) ?(k|M|G)?(?:[Hh]z)?$/.exec(cell.normalize('NFKC').trim()) ?? []
  const value = Number(`${figure.replace(',', '.')}e${{ k: 3, M: 6, G: 9 }[prefix] ?? 0}`)
  if (figure !== '' && value > 0) return value
  complain(line, 'frequency', `"${cell}" is not a frequency. Write it with its unit, such as 1 kHz.`)
  return null
}

function figureIn(cell: string, name: string, line: number, complain: Complain): number | null {
  const text = tidyFigure(cell)
  if (text === '') return null
  if (isFigure(text)) return Number(text) + 0
  complain(line, name, `"${cell}" is not a figure. Write it plain, such as 4.75; the unit has its own column.`)
  return null
}

function expectsIn(cell: string, line: number, complain: Complain): string | null {
  const text = cell.normalize('NFKC').trim().toLowerCase()
  if (text === '') return null
  if (/^[0-9a-f]{64}$/.test(text)) return text
  if (/^0x[0-9a-f]{7}[13579bdf]$/.test(text)) return text
  complain(line, 'expects', 'Write the SHA-256 of the image (64 digits), or an identification code such as 0x1ba02093.')
  return null
}
