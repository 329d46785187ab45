import { Refusal } from '#kernel/refusal'
import type { Sight, Turn } from '#runtime/queue/turn'
import { MOST_TRIES } from './carrying.rules'
import { withoutKey } from './gone-letter.rules'
import * as store from './outbox.store'

/** What waits in the outbox and what has gone. Neither a code nor the key of a donor's own page stands in a letter here, nor what is attached to it. */
export const readOutbox = (sight: Sight) =>
  store.listLetters(sight.db).map(({ id, at, recipient, subject, body, attachedName, sentAt, tries, lastError }) => ({
    id,
    at,
    recipient,
    subject,
    body: withoutKey(body),
    /** What goes with it, by its name alone: it is for the reader. */
    attachedName,
    sentAt,
    tries,
    lastError,
    /** Refused for good, or tried often enough: it waits until somebody has it tried again. */
    isGivenUp: sentAt === null && tries >= MOST_TRIES,
  }))

/** A letter that was given up is tried again at once: the server may have been put right since. */
export function tryLetterAgain(turn: Turn, { id }: { id: string }): { id: string } {
  const found = store.findLetter(turn.db, id)
  if (!found) throw new Refusal('not-found', 'There is no such letter any more. Reload the page.')
  if (found.sentAt !== null) throw new Refusal('conflict', 'It has already been sent.')
  store.tryAgain(turn.db, id, turn.now)
  turn.record({ kind: 'letter.tried-again', subject: 'outbox', body: { letter: id } })
  return { id }
}
