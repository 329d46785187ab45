import { DateTime } from 'luxon'
import type { CertificateResult } from '#bench/certificates/certificates.contract'
import type { PublicRecord } from '#bench/certificates/public-record.rules'
import { nothingChangedWords } from '#bench/certificates/sentences.rules'
import { DAY, HOUR, type Instant } from '#kernel/instant'

/** "11 March 2027", by the calendar of the stream: a record says the same day to everybody who reads it. */
export const dayIn = (at: Instant, zone: string): string => DateTime.fromMillis(at, { zone }).toFormat('d LLLL yyyy')

/** "Tested from 9 to 11 March 2027; the last reading is 2 days old." */
export function testedWords(first: Instant, last: Instant, now: Instant, zone: string): string {
  const [from, to] = [dayIn(first, zone), dayIn(last, zone)]
  return `Tested ${from === to ? `on ${to}` : `from ${from} to ${to}`}; the last reading is ${ageWords(now - last)}.`
}

function ageWords(age: number): string {
  if (age < HOUR) return 'less than an hour old'
  if (age < DAY) return 'less than a day old'
  const days = Math.floor(age / DAY)
  if (days < 60) return days === 1 ? 'a day old' : `${days} days old`
  return `${Math.floor(days / 30.44)} months old`
}

/** The last thing that was changed, in a line, and how often before it. */
export function mendedWords({ reworks, faults }: Pick<PublicRecord, 'reworks' | 'faults'>, zone: string): string {
  const last = reworks.at(-1)
  if (!last) return nothingChangedWords(faults)
  const before = reworks.length - 1
  const more = before === 0 ? '' : ` It had been mended ${before === 1 ? 'once' : `${before} times`} before.`
  return `${last.fault ? 'Mended' : 'Changed'} on ${dayIn(last.at, zone)}: ${last.fault ? `${ended(last.fault)} ` : ''}${ended(last.what)}${more}`
}

export const ended = (words: string): string => (/[.!?]$/.test(words) ? words : `${words}.`)

/**
 * The readings by which a buyer can judge a machine at a glance: those that tell what it is for, in the order given, and after
 * them whatever failed before it was mended or passed within doubt, which nobody may leave out. Each lies on a scale.
 */
export function tellingReadings(record: Pick<PublicRecord, 'results' | 'earlier'>, telling: readonly string[]): CertificateResult[] {
  const onScale = record.results.filter(({ value, lower, upper }) => value !== null && (lower !== null || upper !== null))
  const told = telling.flatMap((key) => onScale.find(({ check }) => check === key) ?? [])
  const owed = onScale.filter(({ check, verdict }) => failedBefore(record, check) || verdict !== 'pass')
  return [...new Set([...told, ...owed])]
}

/** The last failure of a check whose reading no longer counts. */
export const failedBefore = ({ earlier }: Pick<PublicRecord, 'earlier'>, check: string) =>
  earlier.findLast((reading) => reading.check === check && reading.verdict.startsWith('fail'))
