import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'

export const termIn = z.strictObject({
  days: z.coerce
    .number('Write a whole number of days.')
    .int('Write a whole number of days.')
    .min(0, 'Write 0 days or more.')
    .max(3650, 'Write at most 3650 days.'),
})
export type TermIn = z.output<typeof termIn>

export const deletionIn = z.strictObject({
  /** The campaign's name, typed by the person who deletes. */
  typed: text(200, 'Type the campaign’s name.'),
  /** The digest of what the person was shown. */
  shown: text(80, 'Reload the page and check again.'),
})
export type DeletionIn = z.output<typeof deletionIn>

/** The last day on which whoever is asked may answer. */
export const askToKeepIn = z.strictObject({ answerBy: text(10, 'Choose a day.').regex(/^\d{4}-\d\d-\d\d$/, 'Choose a day.') })
export type AskToKeepIn = z.output<typeof askToKeepIn>

const token = text(100, 'Open the link in our letter again: this one is not whole.')
export const keepPageIn = z.strictObject({ token })
export const answerKeepIn = z.strictObject({ token, keep: z.boolean() })
export type AnswerKeepIn = z.output<typeof answerKeepIn>

/** Who of an earlier campaign is asked whether they want to be kept for the present one. */
export interface KeepView {
  zone: string
  /** Still to be asked. */
  donors: number
  bidders: number
  asked: number
  keep: number
  forget: number
  unanswered: number
  /** Forgotten because they did not answer in time. */
  forgotten: number
  answerBy: Instant | null
  /** The letter as somebody would read it. */
  letter: { subject: string; body: string }
}

/** What whoever was asked reads behind their link. */
export interface KeepPage {
  name: string
  campaign: string
  cause: string
  zone: string
  answer: 'keep' | 'forget' | null
  answerBy: Instant
}

/** What was deleted: how much of each kind, and the photographs whose files have to go as well. */
export interface Deleted {
  counts: Record<string, number>
  photographs: string[]
}

/** What a deletion would do now, and what earlier ones did. */
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
  /** The digest of what would be deleted, to be sent back with the deletion. */
  shown: string
}

/** Where contact data stands besides the database: backups in the data folder, and packs that hold it. */
export interface CopiesView {
  backups: string[]
  packs: string[]
}
