import type { Instant } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import { codesGoodSince } from '../sign-in/code-life.rules'
import { openCode } from '../sign-in/sealed-code'
import * as store from './outbox.store'

/** The codes that wait in letters to an address and are still good, newest first: one for each browser that asked. */
export const waitingCodes = (sight: Pick<Sight, 'db' | 'keys' | 'now'>, email: string): { code: string; askedAt: Instant }[] =>
  store
    .listCodeLetters(sight.db, email, codesGoodSince(sight.now))
    .map(({ id, at, sealedCode }) => ({ code: openCode(sight.keys, id, sealedCode ?? ''), askedAt: at }))
