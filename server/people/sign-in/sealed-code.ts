import { sealFor } from '#runtime/queue/sealing'
import type { Keys } from '#runtime/queue/turn'

/** Stands in a letter's text where its code will stand; the postman puts the code there on the way out. */
export const CODE_PLACE = '••••••'

const sealOf = (keys: Keys) => sealFor(keys, 'codes in letters that wait')

/** A code as it waits with its letter, bound to that letter. */
export const sealCode = (keys: Keys, letterId: string, code: string): string => sealOf(keys).close(letterId, Buffer.from(code))

/** Fails when it was sealed by another house, for another letter, or changed. */
export const openCode = (keys: Keys, letterId: string, sealed: string): string => sealOf(keys).open(letterId, sealed).toString('utf8')
