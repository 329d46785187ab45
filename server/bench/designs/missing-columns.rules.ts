import type { TableRow } from '#kernel/table'
import { limitsApart } from './limits-apart.rules'

type Complain = (line: number, column: string, words: string) => void

/** How long a check is taken to last where the list does not say, common practice. */
const MINUTES = '3'

/** In words of several languages: what is done with the power off. What else a stage may be is not told by its name. */
const COLD = /cold|visual|paper|inspect|unpowered|kalt|sicht|froid|visuel|fr[ií]o|freddo/i

/**
 * The rows of a checklist with what its missing columns would have said: limits in one cell taken apart, keys numbered by
 * stage, the kind from the limits, the power from the name of the stage, the order as it is written. Each is a question.
 */
export function withMissingColumns(
  written: readonly TableRow[],
  has: ReadonlySet<string>,
  block: string,
  complain: Complain,
): { rows: TableRow[]; asked: string[] } {
  const keys = has.has('step') ? null : keysByStage(written)
  const rows = written.map(({ line, cells, ...rest }, index) => {
    const own = { ...cells }
    if (has.has('limits') && (own.limits ?? '') !== '') {
      const apart = limitsApart(own.limits ?? '', own.unit ?? '')
      if (apart === null) {
        complain(line, 'limits', `"${own.limits}" are no limits. Write them like 4.75 to 5.25, 5 ± 5 %, at least 0.5 or at most 20.`)
      } else Object.assign(own, apart.nominal === '' ? { ...apart, nominal: own.nominal ?? '' } : apart)
    }
    if (keys) own.step = keys[index] ?? ''
    if (!has.has('kind')) own.kind = kindOf(own)
    if (!has.has('after')) own.after = index === 0 ? '' : (keys?.[index - 1] ?? written[index - 1]?.cells.step ?? '')
    if (!has.has('powered')) own.powered = COLD.test(own.stage ?? '') ? 'n' : 'y'
    if (!has.has('minutes')) own.minutes = MINUTES
    if (!has.has('exercises')) own.exercises = block
    return { line, cells: own, ...rest }
  })
  const asked = [
    ...(keys ? ['The steps were numbered by their stage.'] : []),
    ...(has.has('kind') ? [] : ['What has limits was taken as measured or counted, the rest as yes or no.']),
    ...(has.has('powered') ? [] : [poweredWords(rows)]),
    ...(has.has('after') ? [] : ['Each step comes after the one above it.']),
    ...(has.has('minutes') ? [] : [`Each was taken to last ${MINUTES} minutes.`]),
    ...(has.has('exercises') || block === '' ? [] : [`All exercise the block "${block}".`]),
  ]
  return { rows, asked: asked.length > 0 ? [...asked, 'Add a column for what is otherwise.'] : [] }
}

function poweredWords(rows: readonly TableRow[]): string {
  const off = [...new Set(rows.filter(({ cells }) => cells.powered === 'n').map(({ cells }) => cells.stage))]
  if (off.length === 0) return 'All were taken to be made with the power on: is none to be made before it?'
  return `Taken as made with the power off: ${off.join(', ')}; all others with the power on.`
}

/** The first letter of the stage and a number, as many letters as it takes to tell stages apart. */
function keysByStage(rows: readonly TableRow[]): string[] {
  const lettersOf = new Map<string, string>()
  const counts = new Map<string, number>()
  return rows.map(({ cells }) => {
    const stage = cells.stage ?? ''
    const letters = lettersOf.get(stage) ?? freshLetters(stage, new Set(lettersOf.values()))
    lettersOf.set(stage, letters)
    const count = (counts.get(stage) ?? 0) + 1
    counts.set(stage, count)
    return `${letters}${count}`
  })
}

function freshLetters(stage: string, taken: ReadonlySet<string>): string {
  const plain =
    stage
      .normalize('NFD')
      .toUpperCase()
      .replaceAll(/[^A-Z]/g, '') || 'S'
  for (let length = 1; length <= 4; length++) if (!taken.has(plain.slice(0, length))) return plain.slice(0, length)
  for (let code = 65; code <= 90; code++) {
    const letters = `${plain.slice(0, 2)}${String.fromCharCode(code)}`
    if (!taken.has(letters)) return letters
  }
  return 'Z'
}

const MEASURED = /^(?:[pnuµmkMG]?(?:V|A|Ω|ohms?|F|H|Hz|W|s|m|g|K|J|Pa|Bd|bit\/s)|dB[A-Za-z]*|°C|%|ppm|min|h)(?:\s.*)?$/i

function kindOf(cells: Record<string, string>): string {
  if ((cells.hours ?? '') !== '') return 'soak'
  if ((cells.expects ?? '') !== '') return 'match'
  if ((cells.lower ?? '') === '' && (cells.upper ?? '') === '') return 'yesno'
  return MEASURED.test((cells.unit ?? '').trim()) ? 'measure' : 'count'
}
