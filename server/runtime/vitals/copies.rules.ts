import { spanInWords } from './in-words.rules'
import type { Finding, Standing } from './vital'

const HOUR = 3_600
const DAY = 24 * HOUR

/** Through the stream day a copy is made every half hour. */
export const COPY_STEPS = { onTheDay: { look: 0.75 * HOUR, bad: 1.25 * HOUR }, otherwise: { look: 7 * DAY } }

export interface CopyFacts {
  /** Of the newest copy, in seconds; null where there is none. */
  age: number | null
  isStreamDay: boolean
  /** For how long the house has been open, in seconds. */
  openFor: number
  /** There is something to copy: a campaign that is real. */
  isWorthACopy: boolean
}

export function judgeCopy({ age, isStreamDay, openFor, isWorthACopy }: CopyFacts): Finding {
  if (!isWorthACopy) return { value: age, standing: 'good', words: 'There is nothing yet that would be missed.', toDo: null }
  const words = age === null ? 'There is no copy of this house in its folder.' : `The newest copy was made ${spanInWords(age)} ago.`
  const toDo = 'Run npm run backup, and take the copy to another disk or machine.'
  if (isStreamDay) {
    const { look, bad } = COPY_STEPS.onTheDay
    // A house that was opened just now has not been able to make one.
    const missed = Math.min(age ?? Number.POSITIVE_INFINITY, openFor)
    const standing: Standing = missed > bad ? 'bad' : (age ?? Number.POSITIVE_INFINITY) > look ? 'look' : 'good'
    return {
      value: age,
      standing,
      words: standing === 'good' ? words : `${words} Through the stream day one is made every half hour.`,
      toDo: standing === 'good' ? null : `${toDo} The log says why none was made.`,
    }
  }
  const standing: Standing = age === null || age > COPY_STEPS.otherwise.look ? 'look' : 'good'
  return { value: age, standing, words, toDo: standing === 'good' ? null : toDo }
}
