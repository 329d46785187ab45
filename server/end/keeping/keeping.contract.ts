import { z } from 'zod'
import type { Instant } from '#kernel/instant'

export const packIn = z.strictObject({ withContacts: z.boolean('Say whether contact data goes in.') })
export type PackIn = z.infer<typeof packIn>

export const packNameIn = z.strictObject({ fileName: z.string().min(1, 'Choose a pack.').max(200, 'Choose a pack.') })

export const termIn = z.strictObject({
  days: z.coerce
    .number('Write a whole number of days.')
    .int('Write a whole number of days.')
    .min(0, 'Write 0 days or more.')
    .max(3650, 'Write at most 3650 days.'),
})
export type TermIn = z.output<typeof termIn>

export const forgetIn = z.strictObject({
  /** The campaign's name, typed. */
  typed: z.string().max(200, 'Type the campaign’s name.'),
  /** The digest of what was shown. */
  shown: z.string().max(80, 'Reload the page and look again.'),
})
export type ForgetIn = z.output<typeof forgetIn>

export interface Forgotten {
  counts: Record<string, number>
  /** Whose files go as well. */
  photographs: string[]
}

export interface ContactsView {
  campaign: string
  zone: string
  days: number
  dueAt: Instant | null
  /** Why it cannot be done now, in words; null when it can. */
  refusedBecause: string | null
  steps: { key: string; what: string; count: number }[]
  photographs: number
  bidders: { id: string; name: string; mail: string; bought: boolean }[]
  donors: { id: string; name: string; mail: string }[]
  stays: { what: string; why: string }[]
  /** Memos and references of the journal that hold an address: they stay. */
  inJournal: string[]
  deletions: { id: string; at: Instant; byPersonId: string | null; counts: Record<string, number> }[]
  shown: string
}

export const tellAllIn = z.strictObject({
  /** The digest of the list that was shown. */
  shown: z.string().max(80, 'Reload the page and look again.'),
})
export type TellAllIn = z.output<typeof tellAllIn>

export interface ToTell {
  donorId: string
  name: string
  subject: string
  body: string
}

export interface NotTold {
  donorId: string
  name: string
  why: string
}

/** Who gets the last letter, and who gets none and why. */
export interface TellingView {
  toTell: ToTell[]
  notTold: NotTold[]
  told: number
  /** Why it cannot be sent now; null when it can. */
  refusedBecause: string | null
  shown: string
}

/** One thing to be done at the end, derived from what there is. */
export interface CheckItem {
  key: string
  title: string
  state: 'done' | 'open' | 'not-yet'
  words: string
  href: string
  link: string
}
