import { DateTime } from 'luxon'
import { DAY, HOUR, type Instant } from '../../../../server/kernel/instant'

/** "11 March 2027", by the calendar of the stream: a record says the same day to everybody who reads it. */
export const dayIn = (at: Instant, zone: string): string => DateTime.fromMillis(at, { zone }).toFormat('d LLLL yyyy')

/** How old the newest reading is, as the start of a sentence. */
export function ageWords(at: Instant, now: Instant): string {
  const age = now - at
  if (age < HOUR) return 'The last reading was taken within the hour'
  if (age < DAY) return 'The last reading was taken within a day'
  const days = Math.floor(age / DAY)
  if (days < 60) return `The last reading is ${days === 1 ? 'a day' : `${days} days`} old`
  const months = Math.floor(days / 30.44)
  return `The last reading is ${months} months old`
}
