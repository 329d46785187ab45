import { spanInWords } from './in-words.rules'
import type { Finding, Standing } from './vital'

/** Above which figure something is worth a look, and above which it is bad. */
export interface Steps {
  look: number
  bad: number
}

export const above = (value: number, { look, bad }: Steps): Standing => (value > bad ? 'bad' : value > look ? 'look' : 'good')

/** It looks every ten seconds at the latest. */
export const TICK_STEPS: Steps = { look: 15, bad: 30 }

export function judgeTick(age: number | null): Finding {
  if (age === null) return { value: null, standing: 'good', words: 'Nothing falls due by itself before the house is open.', toDo: null }
  const standing = above(age, TICK_STEPS)
  return {
    value: age,
    standing,
    words:
      standing === 'good'
        ? 'What falls due by itself, such as closings, is looked at all the time.'
        : `What falls due by itself, such as closings, was last looked at ${spanInWords(age)} ago; ten seconds are usual.`,
    toDo: standing === 'good' ? null : 'Restart the house (SIGTERM). If that helps, keep the log: it was a fault of the program.',
  }
}

export interface FailingSweep {
  name: string
  /** In seconds. */
  for: number
}

/** One that fails for this long does not come right by itself. */
const FAILS_TOO_LONG = 60

export function judgeSweeps(failing: readonly FailingSweep[]): Finding {
  if (failing.length === 0) return { value: 0, standing: 'good', words: 'Nothing that was due has failed.', toDo: null }
  const each = failing.map((one) => `${one.name}, for ${spanInWords(one.for)}`).join('; ')
  return {
    value: failing.length,
    standing: failing.some((one) => one.for > FAILS_TOO_LONG) ? 'bad' : 'look',
    words: `Work that falls due by itself fails and is tried again: ${each}. Everything else goes on.`,
    toDo: 'Look in the log for “a sweep failed”: it says why. Restart the house if it is not the disk.',
    also: [
      {
        key: 'sweep-failing-age',
        unit: 'seconds',
        help: 'For how long the work has failed that has failed longest.',
        value: Math.max(...failing.map((one) => one.for)),
      },
    ],
  }
}

/** The house notes every second that it is alive, in the same way as a bid is stored. */
export const WRITE_STEPS: Steps = { look: 3, bad: 10 }

/** Why nothing is stored: the disk does not take it, or what is to hold it besides does not. */
export interface StoringTrouble {
  of: 'disk' | 'machines'
  words: string
}

const MEND_STORING = {
  disk: 'Check the disk of the data folder: room first, then its health.',
  machines:
    'The disk is not the cause. Check that the servers NATS_URL names are running and can be reached; it then carries on by itself.',
} as const

export function judgeWriter(age: number | null, trouble: StoringTrouble | null): Finding {
  if (trouble !== null) return { value: age, standing: 'bad', words: trouble.words, toDo: MEND_STORING[trouble.of] }
  if (age === null) return { value: null, standing: 'good', words: 'Nothing has been stored since the start.', toDo: null }
  const standing = above(age, WRITE_STEPS)
  return {
    value: age,
    standing,
    words:
      standing === 'good'
        ? 'Bids, readings and payments are stored at once.'
        : `Nothing has been stored for ${spanInWords(age)}; once a second is usual.`,
    toDo: standing === 'good' ? null : 'Check whether the disk answers, and whether another program keeps the database locked.',
  }
}
