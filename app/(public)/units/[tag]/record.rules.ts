import { DateTime } from 'luxon'
import { DAY, HOUR, type Instant } from '../../../../server/kernel/instant'

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
