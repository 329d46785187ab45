import { type Instant, MINUTE } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import * as store from './outbox.store'
import { openCode } from './sealed-code'

export const CODE_MINUTES = 10

/** Codes asked for before this moment are good for nothing any more. */
export const codesGoodSince = (now: Instant): Instant => now - CODE_MINUTES * MINUTE

/** The codes that wait in letters to an address and are still good, newest first: one for each browser that asked. */
export const waitingCodes = (sight: Pick<Sight, 'db' | 'keys' | 'now'>, email: string): { code: string; askedAt: Instant }[] =>
  store
    .listCodeLetters(sight.db, email, codesGoodSince(sight.now))
    .map(({ id, at, sealedCode }) => ({ code: openCode(sight.keys, id, sealedCode ?? ''), askedAt: at }))
