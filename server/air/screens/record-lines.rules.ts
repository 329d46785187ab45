/** The parts of a unit's public record from which the host reads. */
export interface RecordToRead {
  /** The verdict on the whole record. */
  sentence: string
  results: readonly { title: string; kind: string; shown: string; unit: string | null; verdict: string }[]
  reworks: readonly { fault: string | null; what: string }[]
}

const LINES = 3

/** Three lines that can be read out: the verdict, what was mended, and figures that say something. */
export function recordLines(record: RecordToRead): string[] {
  const mended = record.reworks.slice(-1).map(({ fault, what }) => (fault ? `Mended: ${fault}. ${capital(what)}.` : `Reworked: ${what}.`))
  const figures = record.results
    .filter(({ kind, verdict }) => kind === 'measure' && verdict.startsWith('pass'))
    .slice(-LINES)
    .reverse()
    .map(({ title, shown, unit }) => `${title}: ${withUnit(shown, unit)}.`)
  return [record.sentence, ...mended, ...figures].slice(0, LINES)
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1).replace(/\.$/, '')

const withUnit = (shown: string, unit: string | null): string => (unit === null || shown.endsWith(unit) ? shown : `${shown} ${unit}`)
