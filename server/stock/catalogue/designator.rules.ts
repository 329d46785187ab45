import type { PartKind } from './part.contract'
import type { ValueUnit } from './value.rules'

/** R13, C1002, R17A: letters, a number, and a letter where parts are matched or share a body (IEEE 315 clause 22). */
const DESIGNATOR = /^([A-Z]{1,4})([1-9]\d{0,4})([A-Z]?)$/
const RANGE = /^([A-Z]{1,4})([1-9]\d{0,4})\s*(?:-|\.\.\.?|TO)\s*([A-Z]{0,4})([1-9]\d{0,4})$/

/** More positions than this in one range is a slip of the pen: R1-R4000 for R1-R40. */
const LONGEST_RANGE = 500

export interface DesignatorsRead {
  designators: string[]
  /** Each a sentence naming the piece of text to blame. */
  problems: string[]
}

/** Expands "R1-R4, R7" to R1 R2 R3 R4 R7. Commas, semicolons, spaces and line ends separate; full-width forms are read. */
export function readDesignators(text: string): DesignatorsRead {
  const designators: string[] = []
  const problems: string[] = []
  const written = text
    .normalize('NFKC')
    .toUpperCase()
    .replaceAll(/[‐‑‒–—−]/g, '-')
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ?(-|\.\.\.?) ?/g, '$1')
    .replaceAll(' TO ', '-')
  for (const word of written.split(/[\s,;]+/).filter(Boolean)) {
    const found = expand(word.slice(0, 40))
    if (typeof found === 'string') problems.push(found)
    else designators.push(...found)
  }
  if (designators.length === 0 && problems.length === 0) problems.push('No designators are given. Write them like R1-R4, R7.')
  for (const { designator } of findDoubles([{ line: 1, designators }])) problems.push(`${designator} is written twice.`)
  return { designators: [...new Set(designators)], problems }
}

function expand(word: string): string[] | string {
  if (DESIGNATOR.test(word)) return [word]
  const range = RANGE.exec(word)
  if (!range) return `"${word}" is not a designator. Write it like R7, or a range like R1-R4.`
  const [, letters = '', from = '', lettersAgain = '', to = ''] = range
  const first = Number(from)
  const last = Number(to)
  if (lettersAgain !== '' && lettersAgain !== letters)
    return `"${word}" runs from ${letters} to ${lettersAgain}. A range keeps its letters.`
  if (last < first) return `"${word}" runs backwards. Write ${letters}${last}-${letters}${first}.`
  if (last - first >= LONGEST_RANGE) return `"${word}" is ${last - first + 1} positions; at most ${LONGEST_RANGE} fit in one range.`
  return Array.from({ length: last - first + 1 }, (_, index) => `${letters}${first + index}`)
}

/** Letters, then numbers by size, then suffix: C2 before C10, R17 before R17A. */
export function byDesignator(a: string, b: string): number {
  const [, lettersA = a, numberA = '0', suffixA = ''] = DESIGNATOR.exec(a) ?? []
  const [, lettersB = b, numberB = '0', suffixB = ''] = DESIGNATOR.exec(b) ?? []
  if (lettersA !== lettersB) return lettersA < lettersB ? -1 : 1
  return Number(numberA) - Number(numberB) || (suffixA === suffixB ? 0 : suffixA < suffixB ? -1 : 1)
}

/** The shortest way to write a set of designators: three or more in a row become a range. */
export function collapseDesignators(designators: readonly string[]): string {
  const rows: string[][] = []
  for (const designator of [...new Set(designators)].sort(byDesignator)) {
    const row = rows.at(-1)
    const last = row?.at(-1)
    if (row && last && row.length < LONGEST_RANGE && follows(last, designator)) row.push(designator)
    else rows.push([designator])
  }
  return rows.map((row) => (row.length > 2 ? `${row[0]}-${row.at(-1)}` : row.join(', '))).join(', ')
}

function follows(before: string, after: string): boolean {
  const [, lettersA, numberA, suffixA] = DESIGNATOR.exec(before) ?? []
  const [, lettersB, numberB, suffixB] = DESIGNATOR.exec(after) ?? []
  return lettersA !== undefined && lettersA === lettersB && suffixA === '' && suffixB === '' && Number(numberB) === Number(numberA) + 1
}

/** Designators used more than once in a parts list, with the lines that use them. */
export function findDoubles(lines: readonly { line: number; designators: readonly string[] }[]): { designator: string; lines: number[] }[] {
  const seen = new Map<string, number[]>()
  for (const { line, designators } of lines) {
    for (const designator of designators) seen.set(designator, [...(seen.get(designator) ?? []), line])
  }
  return [...seen].filter(([, where]) => where.length > 1).map(([designator, where]) => ({ designator, lines: [...new Set(where)] }))
}

export interface DesignatorClass {
  letters: string
  meaning: string
  kind: PartKind
  /** What a value at this position measures, where it measures anything. */
  unit?: ValueUnit
  /** The letters that the standard asks for in place of these, which are in common use. */
  instead?: string
}

/** Class letters of IEEE 315-1975 and ASME Y14.44-2008; RV, H and what stands for others are from memory. `instead` marks what the standard does not allow. */
const CLASSES: readonly DesignatorClass[] = [
  { letters: 'R', meaning: 'resistor', kind: 'resistor', unit: 'Ω' },
  { letters: 'RN', meaning: 'resistor network', kind: 'resistor', unit: 'Ω' },
  { letters: 'RT', meaning: 'thermistor or resettable fuse', kind: 'resistor' },
  { letters: 'RV', meaning: 'varistor', kind: 'resistor' },
  { letters: 'POT', meaning: 'variable resistor', kind: 'resistor', unit: 'Ω', instead: 'R' },
  { letters: 'C', meaning: 'capacitor', kind: 'capacitor', unit: 'F' },
  { letters: 'CN', meaning: 'capacitor network', kind: 'capacitor', unit: 'F', instead: 'C' },
  { letters: 'L', meaning: 'inductor or coil', kind: 'inductor', unit: 'H' },
  { letters: 'E', meaning: 'miscellaneous electrical part, such as a ferrite bead or terminal', kind: 'other' },
  { letters: 'FB', meaning: 'ferrite bead', kind: 'inductor', instead: 'E' },
  { letters: 'FL', meaning: 'filter', kind: 'other' },
  { letters: 'CF', meaning: 'filter', kind: 'other', instead: 'FL' },
  { letters: 'D', meaning: 'diode', kind: 'diode' },
  { letters: 'CR', meaning: 'diode', kind: 'diode' },
  { letters: 'LED', meaning: 'light-emitting diode', kind: 'diode', instead: 'DS' },
  { letters: 'ZD', meaning: 'Zener diode', kind: 'diode', instead: 'D' },
  { letters: 'DS', meaning: 'display, lamp or light-emitting diode', kind: 'display' },
  { letters: 'Q', meaning: 'transistor', kind: 'transistor' },
  { letters: 'TR', meaning: 'transistor', kind: 'transistor', instead: 'Q' },
  { letters: 'U', meaning: 'integrated circuit', kind: 'chip' },
  { letters: 'IC', meaning: 'integrated circuit', kind: 'chip', instead: 'U' },
  { letters: 'VR', meaning: 'voltage regulator', kind: 'chip' },
  { letters: 'REG', meaning: 'voltage regulator', kind: 'chip', instead: 'VR' },
  { letters: 'OK', meaning: 'optocoupler', kind: 'chip', instead: 'U' },
  { letters: 'J', meaning: 'jack, the more fixed connector', kind: 'connector' },
  { letters: 'JP', meaning: 'jumper', kind: 'connector', instead: 'J' },
  { letters: 'P', meaning: 'plug, the less fixed connector', kind: 'connector' },
  { letters: 'TB', meaning: 'terminal block', kind: 'connector' },
  { letters: 'TP', meaning: 'test point', kind: 'other' },
  { letters: 'CON', meaning: 'connector', kind: 'connector', instead: 'J' },
  { letters: 'RL', meaning: 'relay', kind: 'switch', instead: 'K' },
  { letters: 'K', meaning: 'relay', kind: 'switch' },
  { letters: 'S', meaning: 'switch', kind: 'switch' },
  { letters: 'SW', meaning: 'switch', kind: 'switch', instead: 'S' },
  { letters: 'F', meaning: 'fuse', kind: 'fuse', unit: 'A' },
  { letters: 'FU', meaning: 'fuse', kind: 'fuse', unit: 'A', instead: 'F' },
  { letters: 'CB', meaning: 'circuit breaker', kind: 'fuse', unit: 'A' },
  { letters: 'T', meaning: 'transformer', kind: 'transformer' },
  { letters: 'Y', meaning: 'crystal or oscillator', kind: 'crystal', unit: 'Hz' },
  { letters: 'X', meaning: 'socket or holder', kind: 'connector' },
  { letters: 'XTAL', meaning: 'crystal', kind: 'crystal', unit: 'Hz', instead: 'Y' },
  { letters: 'BT', meaning: 'battery', kind: 'other', unit: 'V' },
  { letters: 'B', meaning: 'motor, fan or blower', kind: 'other' },
  { letters: 'LS', meaning: 'loudspeaker or buzzer', kind: 'other' },
  { letters: 'BZ', meaning: 'buzzer', kind: 'other', instead: 'LS' },
  { letters: 'SP', meaning: 'loudspeaker', kind: 'other', instead: 'LS' },
  { letters: 'MK', meaning: 'microphone', kind: 'other' },
  { letters: 'H', meaning: 'hardware, such as a screw or the hole for it', kind: 'other' },
  { letters: 'MH', meaning: 'hole for a screw', kind: 'other', instead: 'H' },
  { letters: 'FID', meaning: 'mark for a placing machine', kind: 'other' },
  { letters: 'MP', meaning: 'mechanical part', kind: 'other' },
  { letters: 'HS', meaning: 'heat sink', kind: 'other', instead: 'MP' },
  { letters: 'M', meaning: 'meter', kind: 'other' },
  { letters: 'W', meaning: 'wire or cable', kind: 'other' },
  { letters: 'A', meaning: 'assembly', kind: 'board' },
  { letters: 'PS', meaning: 'power supply', kind: 'other' },
  { letters: 'AT', meaning: 'attenuator', kind: 'other' },
  { letters: 'TC', meaning: 'thermocouple', kind: 'other' },
]
const BY_LETTERS = new Map(CLASSES.map((each) => [each.letters, each]))

/** What kind of part stands at a designator; XU5 is the socket of U5. Undefined where the letters are not in the standard. */
export function classOf(designator: string): DesignatorClass | undefined {
  const letters = DESIGNATOR.exec(designator)?.[1]
  if (letters === undefined) return undefined
  const known = BY_LETTERS.get(letters)
  if (known) return known
  const held = letters.startsWith('X') ? BY_LETTERS.get(letters.slice(1)) : undefined
  return held && { letters, meaning: `socket or holder for ${held.letters}`, kind: 'connector' }
}
