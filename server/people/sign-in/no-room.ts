import { Refusal } from '#kernel/refusal'
import { HELD_BY_ANOTHER, NO_ROOM } from '#runtime/queue/queue'

const FULL = /^(SQLITE_FULL|ENOSPC|EDQUOT)/
const HELD = /^SQLITE_(BUSY|LOCKED)/

/** Whether that is what stopped something; the libraries between wrap what the database says. */
function isOf(codes: RegExp, reason: unknown): boolean {
  for (let one = reason, depth = 0; typeof one === 'object' && one !== null && depth < 5; depth++) {
    if ('code' in one && codes.test(String(one.code))) return true
    one = 'cause' in one ? one.cause : null
  }
  return false
}

/** The sign-in library writes past the queue: what it cannot store is refused in the same words as everything else. */
export const orNoRoom = <T>(work: () => Promise<T> | T): Promise<T> =>
  (async () => work())().catch((reason: unknown) => {
    if (isOf(FULL, reason)) throw new Refusal('no-room', NO_ROOM)
    throw isOf(HELD, reason) ? new Refusal('file-held', HELD_BY_ANOTHER) : reason
  })
