import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'

export interface AccountLine {
  what: string
  lot: number | null
  /** The day on the bank's paper; empty where none is known. */
  day: string
  reference: string
  minor: Minor
}

/** One part of the account. Its lines add up to its total. */
export interface AccountPart {
  key: string
  title: string
  lines: AccountLine[]
  totalMinor: Minor
}

/** One place at which the account does not come out, and by how much. */
export interface Variance {
  differsMinor: Minor
  words: string
}

/** Why a lot stands at another figure than its page tells, in a sentence. */
export interface LotNote {
  lot: number
  words: string
}

/** Which state of the journal an account was drawn from: how many entries, and a digest over all of them. */
export interface JournalHead {
  entries: number
  digest: string
}

/** The whole account given to the cause. */
export interface Account {
  currency: Currency
  campaign: string
  causeName: string
  causeRegistration: string
  /** Null where lots were sold under different shares. */
  causeShareBp: number | null
  sellerName: string
  zone: string
  drawnAt: Instant
  head: JournalHead
  parts: AccountPart[]
  sums: Record<string, Minor>
  lotNotes: LotNote[]
  /** Where a share was rounded; empty where none was. */
  rounding: string[]
  varianceMinor: Minor
  varianceAt: Variance[]
}
