import type { Keys } from '#runtime/queue/turn'
import { openCode, sealCode } from '../sign-in/sealed-code'

/** Stands in a letter's text for words that are for its reader alone, such as their maximum; the postman puts them there on the way out. */
export const READER_PLACE = '‹shown to its reader alone›'

const nameOf = (rowId: string): string => `${rowId} words`

/** Words as they wait with their letter, or with the notice that a letter will be made of, sealed as a code is. A line for each place. */
export const sealWords = (keys: Keys, rowId: string, words: string): string => sealCode(keys, nameOf(rowId), words)

export const unsealWords = (keys: Keys, rowId: string, sealed: string): string => openCode(keys, nameOf(rowId), sealed)

/** The text as its reader has it. */
export function openWords(keys: Keys, letterId: string, body: string, sealed: string | null): string {
  if (sealed === null) return body
  const lines = unsealWords(keys, letterId, sealed).split('\n')
  return body.replaceAll(READER_PLACE, () => lines.shift() ?? READER_PLACE)
}

const attachedTo = (letterId: string): string => `${letterId} attached`

/** A file takes whole blocks of so many characters, so that the length of what is sealed does not tell how many digits a maximum has. */
const BLOCK = 4096

/** A file as it waits with its letter. */
export function sealAttachment(keys: Keys, letterId: string, text: string): string {
  return sealCode(keys, attachedTo(letterId), text.padEnd(Math.ceil(text.length / BLOCK) * BLOCK))
}

export const openAttachment = (keys: Keys, letterId: string, sealed: string): string =>
  openCode(keys, attachedTo(letterId), sealed).trimEnd()
