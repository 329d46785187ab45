import { Refusal } from '#kernel/refusal'
import { NO_ROOM } from '#runtime/queue/queue'

const FULL = /^(SQLITE_FULL|ENOSPC|EDQUOT)/

/** Whether a full disk is what stopped something; the libraries between wrap what the database says. */
function isOfFullDisk(reason: unknown): boolean {
  for (let one = reason, depth = 0; typeof one === 'object' && one !== null && depth < 5; depth++) {
    if ('code' in one && FULL.test(String(one.code))) return true
    one = 'cause' in one ? one.cause : null
  }
  return false
}

/** The sign-in library writes past the queue: what it cannot store is refused in the same words as everything else. */
export const orNoRoom = <T>(work: () => Promise<T> | T): Promise<T> =>
  (async () => work())().catch((reason: unknown) => {
    throw isOfFullDisk(reason) ? new Refusal('no-room', NO_ROOM) : reason
  })
