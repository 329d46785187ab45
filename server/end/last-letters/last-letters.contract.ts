import { z } from 'zod'
import { text } from '#kernel/text'

export const sendIn = z.strictObject({
  /** The digest of the list that was shown. */
  shown: text(80, 'Reload the page and check again.'),
})
export type SendIn = z.output<typeof sendIn>

/** A letter as it would be sent. */
export interface LetterToSend {
  donorId: string
  name: string
  subject: string
  body: string
}

export interface WithoutLetter {
  donorId: string
  name: string
  why: string
}

/** Who gets the last letter, and who gets none and why. */
export interface LastLettersView {
  toSend: LetterToSend[]
  without: WithoutLetter[]
  /** How many donors were sent theirs. */
  sent: number
  /** Why it cannot be sent now; null when it can. */
  refusedBecause: string | null
  /** The digest of the letters, to be sent back when they are sent. */
  shown: string
}
