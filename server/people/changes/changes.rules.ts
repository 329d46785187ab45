import type { Change } from './changes.contract'

/** So much of a text stands in a sentence; the whole of it stands in the table. */
const MOST = 140

const shortly = (words: string): string => {
  const line = words.replaceAll(/\s+/g, ' ').trim()
  return line.length > MOST ? `${line.slice(0, MOST).trimEnd()}…` : line
}

/** A change as a sentence: "Wilma Harrow changed the account of the campaign: …1234 → …5678". */
export function changeSentence({ by, what, before, after }: Change & { by: string }): string {
  if (before === '' && after === '') return `${by} changed ${what}`
  if (before === '') return `${by} set ${what}: ${shortly(after)}`
  if (after === '') return `${by} removed ${what}: ${shortly(before)}`
  return `${by} changed ${what}: ${shortly(before)} → ${shortly(after)}`
}

/** True where a sentence holds less than what was changed. */
export const isShortened = ({ before, after }: Pick<Change, 'before' | 'after'>): boolean =>
  [before, after].some((words) => shortly(words) !== words)

/** An account as it is recorded and told of: whose it is, its first and last four signs and its bank, which pay nobody. */
export const shortAccount = ({ name, iban, bic }: { name: string; iban: string; bic: string }): string =>
  iban === '' ? '' : `${name}, ${iban.slice(0, 4)}…${iban.slice(-4)}${bic === '' ? '' : ` at ${bic}`}`

/** An address as it is recorded: enough to tell two people of one name apart, and nobody can write to it. A record is never changed, not even for contact data. */
export const shortAddress = (email: string): string => `${email.slice(0, 1)}…${email.slice(Math.max(0, email.indexOf('@')))}`

/** Of two lists only what the other has not, so that in a long table one sees the line that was changed. */
export function changedLines(before: readonly string[], after: readonly string[]): { before: string; after: string } {
  const [had, has] = [new Set(before), new Set(after)]
  return {
    before: before.filter((line) => !has.has(line)).join('; '),
    after: after.filter((line) => !had.has(line)).join('; '),
  }
}
