import { DAY, SECOND } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import type { Watched } from '#runtime/vitals/vital'
import { codesGoodSince } from '../sign-in/code-life.rules'
import { MOST_TRIES } from './carrying.rules'
import { judgeMail, judgeOldestLetter, LETTER_STEPS, MAIL_STEPS } from './mail.rules'
import * as store from './outbox.store'
import type { Postman } from './postman'

/** In an outbox that is never emptied thousands wait, so that is not looked through each time. */
const LOOKED_THROUGH_EVERY_MS = 30_000

/** What is watched of the mail; `postman` is null where no mail server is set. */
export function mailWatched({ sight, postman, isDemo }: { sight(): Sight; postman: Postman | null; isDemo: boolean }): Watched[] {
  const hasServer = postman !== null
  const ageOf = (at: number | null) => (at === null ? null : (performance.now() - at) / SECOND)
  let seen = { at: Number.NEGATIVE_INFINITY, oldest: null as number | null, givenUp: 0 }
  const waiting = () => {
    if (performance.now() - seen.at < LOOKED_THROUGH_EVERY_MS) return seen
    const { db, now } = sight()
    const of = { codesSince: codesGoodSince(now), mostTries: MOST_TRIES }
    seen = { at: performance.now(), oldest: store.oldestWaiting(db, of), givenUp: store.countGivenUp(db, { ...of, since: now - 7 * DAY }) }
    return seen
  }
  return [
    {
      key: 'mail-failing',
      name: 'Mail',
      unit: 'seconds',
      help: 'For how long mail has not gone out; 0 while it does.',
      limits: { lower: null, upper: MAIL_STEPS.bad },
      whenNotReady: 'Mail does not go out at present.',
      look() {
        const { wentAt = null, failingSince = null } = postman?.state() ?? {}
        return judgeMail({ hasServer, isDemo, failingFor: ageOf(failingSince), wentAgo: ageOf(wentAt), givenUp: waiting().givenUp })
      },
    },
    {
      key: 'letter-age',
      name: 'Oldest waiting letter',
      unit: 'seconds',
      help: 'Age of the oldest letter that may go out and has not; 0 where none waits.',
      limits: { lower: null, upper: LETTER_STEPS.bad },
      look(now) {
        const { oldest } = waiting()
        return judgeOldestLetter(oldest === null ? null : Math.max(0, (now - oldest) / SECOND), hasServer)
      },
    },
  ]
}
