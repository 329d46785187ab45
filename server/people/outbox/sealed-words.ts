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

const attachedTo = (letterId: string): string => `${letterId} attached`

/** A file takes whole blocks of so many characters, so that the length of what is sealed does not tell how many digits a maximum has. */
const BLOCK = 4096

/** A file as it waits with its letter. */
export function sealAttachment(keys: Keys, letterId: string, text: string): string {
  return sealCode(keys, attachedTo(letterId), text.padEnd(Math.ceil(text.length / BLOCK) * BLOCK))
}

export const openAttachment = (keys: Keys, letterId: string, sealed: string): string =>
  openCode(keys, attachedTo(letterId), sealed).trimEnd()
