import { Refusal } from '#kernel/refusal'
import type { Letter, Sight, Turn } from '#runtime/queue/turn'
import { MOST_TRIES } from './carrying.rules'
import { withoutKey } from './gone-letter.rules'
import * as store from './outbox.store'
import { sealWords } from './sealed-words'

/** What stands at a letter from when it is given to the server until the answer is noted. */
export const NOT_KNOWN = 'It was given to the mail server, and whether it went is not known yet.'

/** What becomes of a letter that waited: it goes in these words, or as it is, or not at all, since what it says is no longer so. */
export type Reviewed = 'as it is' | 'overtaken' | Pick<Letter, 'subject' | 'body' | 'forReader'>

/** Puts a letter that waits into other words, under the same name; or withdraws it. */
export function rewriteLetter({ db, keys, now }: Turn, id: string, to: Reviewed): void {
  if (to === 'as it is') return
  if (to === 'overtaken') {
    store.updateLetter(db, id, { withdrawnAt: now, sealedWords: null })
    return
  }
  const { subject, body, forReader } = to
  store.updateLetter(db, id, { subject, body, sealedWords: forReader === undefined ? null : sealWords(keys, id, forReader) })
}

/** What waits in the outbox and what has gone. Neither a code nor the key of a donor's own page stands in a letter here, nor what is attached to it. */
export const readOutbox = (sight: Sight) =>
  store.listLetters(sight.db).map(({ id, at, recipient, subject, body, attachedName, sentAt, withdrawnAt, tries, lastError }) => ({
    id,
    at,
    recipient,
    subject,
    body: withoutKey(body),
    /** What goes with it, by its name alone: it is for the reader. */
    attachedName,
    sentAt,
    withdrawnAt,
    tries,
    lastError,
    /** Refused for good, or tried often enough: it waits until somebody has it tried again. */
    isGivenUp: sentAt === null && withdrawnAt === null && tries >= MOST_TRIES,
  }))

/** A letter that was given up is tried again at once: the server may have been put right since. */
export function tryLetterAgain(turn: Turn, { id }: { id: string }): { id: string } {
  const found = store.findLetter(turn.db, id)
  if (!found) throw new Refusal('not-found', 'There is no such letter any more. Reload the page.')
  if (found.sentAt !== null) throw new Refusal('conflict', 'It has already been sent.')
  if (found.withdrawnAt !== null) throw new Refusal('conflict', 'It was withdrawn: what it says is no longer so.')
  store.tryAgain(turn.db, id, turn.now)
  turn.record({ kind: 'letter.tried-again', subject: 'outbox', body: { letter: id } })
  return { id }
}
