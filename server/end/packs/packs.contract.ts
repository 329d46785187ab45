import { z } from 'zod'
import { text } from '#kernel/text'

export const packIn = z.strictObject({ withContacts: z.boolean('Say whether to include contact data.') })
export type PackIn = z.infer<typeof packIn>

export const packNameIn = z.strictObject({ fileName: text(200, 'Choose a pack.').min(1, 'Choose a pack.') })

/** How far a pack is: files done, of how many, and the path of the one that is being written. */
export interface PackNews {
  done: number
  of: number
  at: string
}

/** A pack that is whole, as the house remembers it. */
export interface PackMade {
  bytes: number
  sha256: string
  files: number
  isWhole: boolean
  withContacts: boolean
  /** How many entries the journal had. */
  lastEntry: number
  leftOut: string[]
}
