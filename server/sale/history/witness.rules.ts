import { bytesToHex } from '@noble/hashes/utils.js'
import { openNote } from './checkpoint.rules'
import type { History } from './history.contract'
import { shortHead } from './short-head.rules'

/** What somebody holds of an earlier state: a whole head, or the code that was read aloud. */
export type Witness = { size: number; rootHex: string } | { code: string }

export interface Continued {
  isSound: boolean
  words: string
}

/** Whether a history, whose own heads were found to hold, continues what a witness holds of it. */
export function continues(history: History, witness: Witness): Continued {
  const heads = history.heads.map(({ size, checkpoint }) => ({
    size,
    root: bytesToHex(openNote(checkpoint)?.head.root ?? new Uint8Array()),
  }))
  const all = history.leaves.length
  if ('code' in witness) {
    const found = heads.find(({ root }) => shortHead(root) === witness.code)
    return found
      ? {
          isSound: true,
          words: `The history shown now continues it: the code ${witness.code} is the head after ${found.size} of its ${all} entries.`,
        }
      : {
          isSound: false,
          words: `No head of the history shown now has the code ${witness.code}. Either it was heard wrongly, or it is of another lot, or the history is another one than was shown then. Keep the recording.`,
        }
  }
  const shown = heads.find(({ size }) => size === witness.size)
  if (shown?.root === witness.rootHex)
    return { isSound: true, words: `The history shown now continues it: it is the head after ${witness.size} of its ${all} entries.` }
  const instead = shown
    ? `has another head after ${witness.size} entries`
    : all < witness.size
      ? `has only ${all} entries`
      : `has no head after ${witness.size} entries`
  return {
    isSound: false,
    words: `The history shown now does not continue it: it ${instead}. Keep what you have; the two contradict each other.`,
  }
}
