import { AT_HOME_COLUMNS } from './at-home.rules'
import type { Check, Feed } from './design.contract'

/** A row of a list as it is written: a cell for each column. */
export type Cells = Record<string, string>

/** A check as a row of the checklist that is read back as the same check. */
export function cellsOf(check: Check): Cells {
  const { decimals, limitsAs } = check
  const figure = (value: number | null) => (value === null ? '' : value.toFixed(decimals))
  return {
    step: check.key,
    stage: check.stage,
    hold: check.isHold ? 'hold' : '',
    'stage kind': check.stageKind,
    'gates power': check.gatesPower ? 'y' : 'n',
    'four eyes': check.fourEyes ? 'y' : '',
    frequency: check.frequency === null ? '' : frequencyCell(check.frequency),
    title: check.title,
    kind: check.kind,
    nominal: figure(check.nominal),
    lower: limitsAs?.lower ?? figure(check.lower),
    upper: limitsAs?.upper ?? figure(check.upper),
    unit: check.unit,
    after: check.after.join(' '),
    exercises: check.exercises.join(';'),
    powered: check.isPowered ? 'y' : 'n',
    minutes: String(check.minutes),
    hours: check.soakHours === null ? '' : String(check.soakHours),
    starts: check.coldStarts === null ? '' : String(check.coldStarts),
    plain: check.plain,
    caution: check.caution,
    'on failure': check.onFailure,
    expects: check.expects ?? '',
    [AT_HOME_COLUMNS.touch]: check.atHome?.touch ?? '',
    [AT_HOME_COLUMNS.needs]: check.atHome?.needs ?? '',
    [AT_HOME_COLUMNS.signs]: check.atHome?.signs ?? '',
  }
}

/** The shortest way to write it that is read back as the same. */
const frequencyCell = (hertz: number) =>
  hertz >= 1000 && Number.isInteger(hertz) && hertz % 100 === 0 ? `${hertz / 1000} kHz` : `${hertz} Hz`

/** What feeds what, in the order in which the blocks are named; a block that feeds nothing and is fed by nothing has a row of its own. */
export function feedCells(blocks: readonly string[], feeds: readonly Feed[]): Cells[] {
  const tied = new Set(feeds.flatMap(({ from, to }) => [from, to]))
  return [
    ...feeds.map(({ from, to, kind, point = '', expects = '' }) => ({ from, to, kind, 'test point': point, expect: expects })),
    ...blocks.filter((block) => !tied.has(block)).map((block) => ({ from: block, to: '', kind: '', 'test point': '', expect: '' })),
  ]
}
