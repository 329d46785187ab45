import type { Sight } from '../runtime/turn'
import { listLetters } from './outbox.store'

/** What waits in the outbox and what has gone. Sign-in codes are shown only where no mail server is set: there they are the only way in. */
export const readOutbox = (sight: Sight) =>
  listLetters(sight).map(({ id, at, recipient, subject, body, sentAt, tries, lastError }) => ({
    id,
    at,
    recipient,
    subject,
    body: sentAt !== null && subject.includes('code') ? 'A sign-in code; it has gone by mail and is not shown here.' : body,
    sentAt,
    tries,
    lastError,
  }))
