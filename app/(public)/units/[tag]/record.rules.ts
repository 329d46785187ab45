import { DateTime } from 'luxon'
import type { CertificateResult } from '#bench/certificates/certificates.contract'
import type { PublicRecord } from '#bench/certificates/public-record.rules'
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
export function mendedWords(reworks: PublicRecord['reworks'], zone: string): string {
  const last = reworks.at(-1)
  if (!last) return 'No fault was found, and nothing was mended.'
  const before = reworks.length - 1
  const more = before === 0 ? '' : ` It had been mended ${before === 1 ? 'once' : `${before} times`} before.`
  return `${last.fault ? 'Mended' : 'Changed'} on ${dayIn(last.at, zone)}: ${last.fault ? `${ended(last.fault)} ` : ''}${ended(last.what)}${more}`
}

export const ended = (words: string): string => (/[.!?]$/.test(words) ? words : `${words}.`)

/**
 * The readings by which a buyer can judge a machine at a glance: what failed before it was mended, what passed within
 * doubt, what can be measured again at home, then the first ones. In the order of the checklist; each lies on a scale.
 */
export function tellingReadings(record: Pick<PublicRecord, 'results' | 'atHome' | 'earlier'>, most = 5): CertificateResult[] {
  const weight = ({ check, verdict }: CertificateResult) =>
    failedBefore(record, check) ? 0 : verdict === 'pass within doubt' ? 1 : record.atHome.includes(check) ? 2 : 3
  const onScale = record.results.filter(({ value, lower, upper }) => value !== null && (lower !== null || upper !== null))
  const telling = new Set([...onScale].sort((a, b) => weight(a) - weight(b)).slice(0, most))
  return onScale.filter((result) => telling.has(result))
}

/** The last failure of a check whose reading no longer counts. */
export const failedBefore = ({ earlier }: Pick<PublicRecord, 'earlier'>, check: string) =>
  earlier.findLast((reading) => reading.check === check && reading.verdict.startsWith('fail'))
