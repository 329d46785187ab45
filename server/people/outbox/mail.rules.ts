import { spanInWords } from '#runtime/vitals/in-words.rules'
import type { Finding, Standing } from '#runtime/vitals/vital'

const MINUTE = 60
const HOUR = 3_600

export interface MailFacts {
  /** A mail server is set. */
  hasServer: boolean
  isDemo: boolean
  /** All in seconds; null where there is none. */
  failingFor: number | null
  wentAgo: number | null
  givenUp: number
}

/** A server that is away for a few minutes is nothing unusual; a sign-in code is good for some. */
export const MAIL_STEPS = { look: 2 * MINUTE, bad: 10 * MINUTE }
export const LETTER_STEPS = { look: 10 * MINUTE, bad: 2 * HOUR }

const SET_ONE = 'Set SMTP_URL to your mail server and restart the house.'

export function judgeMail({ hasServer, isDemo, failingFor, wentAgo, givenUp }: MailFacts): Finding {
  if (!hasServer)
    return isDemo
      ? { value: null, standing: 'good', words: 'This is a demo: its mail goes nowhere, and can be read in the outbox.', toDo: null }
      : { value: null, standing: 'look', words: 'No mail server is set: letters and sign-in codes wait in the outbox.', toDo: SET_ONE }
  const last = wentAgo === null ? 'No letter has gone out since the start.' : `The last letter went out ${spanInWords(wentAgo)} ago.`
  if (failingFor !== null) {
    const standing: Standing = failingFor > MAIL_STEPS.bad ? 'bad' : failingFor > MAIL_STEPS.look ? 'look' : 'good'
    return {
      value: failingFor,
      standing,
      words: `Mail has not gone out for ${spanInWords(failingFor)}; it is tried again by itself. ${last}`,
      toDo:
        standing === 'good'
          ? null
          : 'The outbox shows what the mail server said. Check whether it can be reached, and whether SMTP_URL is right.',
    }
  }
  if (givenUp > 0)
    return {
      value: 0,
      standing: 'look',
      words: `Mail goes out, but ${givenUp === 1 ? 'one letter of this week was' : `${givenUp} letters of this week were`} given up.`,
      toDo: 'The outbox shows why; put the address right and try again there.',
    }
  return { value: 0, standing: 'good', words: `Mail goes out. ${last}`, toDo: null }
}

/** `age`: of the oldest letter that may go and has not. */
export function judgeOldestLetter(age: number | null, hasServer: boolean): Finding {
  if (age === null) return { value: 0, standing: 'good', words: 'No letter is waiting.', toDo: null }
  const words = `The oldest letter that waits was written ${spanInWords(age)} ago.`
  if (!hasServer) return { value: null, standing: 'good', words, toDo: null }
  const standing: Standing = age > LETTER_STEPS.bad ? 'bad' : age > LETTER_STEPS.look ? 'look' : 'good'
  return {
    value: age,
    standing,
    words,
    toDo: standing === 'good' ? null : 'Look at it in the outbox: it shows what the mail server answered.',
  }
}
