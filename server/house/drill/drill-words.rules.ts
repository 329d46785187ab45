import type { Compared } from './standing-house'
import type { Serving } from './would-serve'

/** One step of a drill, and how long it took. */
export interface Part {
  step: 'look' | 'keys' | 'database' | 'photographs' | 'check' | 'put' | 'compare' | 'serve' | 'lots'
  ms: number
}

export interface DrillReport {
  parts: readonly Part[]
  /** The size of the database. */
  bytes: number
  /** The newest instant that the copy knows of. */
  newestAt: number
  photographs: number
  /** Null where no house stands here that the copy could be held against. */
  compared: Compared | null
  serving: Serving
  /** How many lots were looked through, and what is damaged of them. */
  lots: number
  damages: readonly string[]
}

const DONE: Readonly<Record<Part['step'], string>> = {
  look: 'looked',
  keys: 'The keys were fetched and opened with the passphrase',
  database: 'The database was fetched and put together',
  photographs: 'The photographs were fetched',
  check: 'All of it was read through and its sums taken',
  put: 'It was put in place and checked, as npm run restore does',
  compare: 'It was held against the house that stands here',
  serve: 'The house was opened on it, asked how it is, and closed',
  lots: 'The history of each lot was read through',
}

/** Steps that somebody who needs the house has to wait for. */
const WAITED_FOR: readonly Part['step'][] = ['keys', 'database', 'photographs', 'check', 'put']

export const partWords = ({ step, ms }: Part): string => `${DONE[step]}: ${seconds(ms)}.`

export const bringsTheHouseUp = ({ serving, damages, compared }: DrillReport): boolean =>
  serving.is === 'serving' && damages.length === 0 && (compared?.differences.length ?? 0) === 0

/** What came of a drill, for a person. */
export function drillWords(report: DrillReport): string {
  const { newestAt, bytes, photographs, serving, lots, damages, compared } = report
  const lines = [
    `The copy knows what happened until ${new Date(newestAt).toISOString()}: a database of ${Math.ceil(bytes / 2 ** 20)} MB and ${photographs} files of photographs.`,
    lostWords(compared),
  ]
  if (serving.is === 'serving') {
    const waited = report.parts.filter(({ step }) => WAITED_FOR.includes(step)).reduce((sum, { ms }) => sum + ms, 0)
    lines.push(
      `The house opened on it within ${seconds(serving.afterMs)} and answered: ${seconds(waited + serving.afterMs)} from the command to the first answer.`,
    )
    if (damages.length === 0) lines.push(`The histories of all ${lots} lots lead to their signed heads.`)
  } else lines.push(`The house did not open on it. ${serving.words}`)
  lines.push(...damages, ...(compared?.differences ?? []).map((words) => `${words}.`))
  lines.push(
    bringsTheHouseUp(report)
      ? 'This copy would bring the house up. What the drill made is gone again.'
      : 'This copy would not bring the house up as it was. Make a backup now (npm run backup), look at what is said above, and let the house begin another copy: set COPY_TO to an empty place.',
  )
  return lines.join('\n')
}

function lostWords(compared: Compared | null): string {
  if (compared === null) return 'No house stands in DATA_DIR, so nothing says what happened since.'
  const { lostFacts, lostMs } = compared
  if (lostFacts === 0 && lostMs === 0) return 'Nothing would have been lost: it had all that the house had when it was fetched.'
  return `${seconds(lostMs)} of work would have been lost when it was fetched: ${lostFacts === 0 ? 'nothing happened in them' : `${lostFacts} ${lostFacts === 1 ? 'fact' : 'facts'}`}.`
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`
