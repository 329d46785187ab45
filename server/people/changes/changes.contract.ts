import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import type { Role } from '#kernel/role'
import { text } from '#kernel/text'

/** What is recorded when it changes. */
export const CHANGE_KINDS = ['role', 'ceiling', 'account', 'terms', 'campaign', 'postage', 'key'] as const
export type ChangeKind = (typeof CHANGE_KINDS)[number]

export const listChangesIn = z.strictObject({
  kind: z.enum(CHANGE_KINDS, 'Choose one of the kinds.').nullable(),
  /** A person's id; `house` for what it did by itself. */
  by: text(80, 'Choose one of the people.').nullable(),
  /** The page that begins below this entry; null for the newest. */
  below: z.int('Go back to the newest.').positive('Go back to the newest.').nullable(),
})
export type ListChangesIn = z.infer<typeof listChangesIn>

/** What the house did by itself stands under this in the choice of people. */
export const THE_HOUSE = 'house'

/** What is written down of one change. `what` as it stands in a sentence: "the role of Oskar Lind". */
export interface Change {
  kind: ChangeKind
  what: string
  /** Empty where there was nothing, and with `after` where what was changed is secret. */
  before: string
  after: string
}

export interface ChangeEntry extends Change {
  seq: number
  at: Instant
  by: string
  byRole: Role | null
}

export interface ChangesView {
  entries: ChangeEntry[]
  /** All that fit the choice, on whichever page. */
  count: number
  /** Where the next page begins; null on the last. */
  next: number | null
  /** Everybody who ever changed something. */
  people: { id: string; name: string }[]
}
