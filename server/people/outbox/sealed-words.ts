import type { Keys } from '#runtime/queue/turn'
import { openCode, sealCode } from '../sign-in/sealed-code'

/** Stands in a letter's text for words that are for its reader alone, such as their maximum; the postman puts them there on the way out. */
export const READER_PLACE = '‹shown to its reader alone›'

const nameOf = (letterId: string): string => `${letterId} words`

/** Words as they wait with their letter, sealed as a code is. */
export const sealWords = (keys: Keys, letterId: string, words: string): string => sealCode(keys, nameOf(letterId), words)

/** The text as its reader has it. */
export const openWords = (keys: Keys, letterId: string, body: string, sealed: string | null): string =>
  sealed === null ? body : body.replace(READER_PLACE, () => openCode(keys, nameOf(letterId), sealed))
