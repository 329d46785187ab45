import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { mailAddress } from '#kernel/mail-address'
import type { Currency, Minor } from '#kernel/money'
import { text } from '#kernel/text'
import { ANONYMITIES, type Anonymity, CONSENT_USES, type Consents, type GiftKind, type GiftState } from '#stock/donors/donor.contract'

const token = text(200, 'That link is not complete. Use the whole link from the email.')

export const openYoursIn = z.strictObject({ token })

export const yourConsentIn = z.strictObject({
  token,
  use: z.enum(CONSENT_USES, 'Choose what the consent is for.'),
  given: z.boolean(),
})

export const yourNamingIn = z.strictObject({
  token,
  creditName: text(120, 'Keep the name under 121 characters.').min(1, 'Write the name as it should be shown.'),
  sayIt: text(120, 'Keep how to say it under 121 characters.').default(''),
  anonymity: z.enum(ANONYMITIES, 'Choose how you may be named.').exclude(['unknown'], 'Choose how you may be named.'),
})

export const askLinkIn = z.strictObject({
  mail: mailAddress('Write the email address we wrote to you at, like ines@example.org.'),
})

/** One machine that a gift is in, and what became of it. */
export interface InMachine {
  tag: string
  designators: string[]
  /** Its record can be read by anybody. */
  hasRecord: boolean
  lot: SoldLot | null
}

export interface SoldLot {
  number: number
  title: string
  state: 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'
  hammerMinor: Minor | null
  standsMinor?: Minor
}

export interface YourGift {
  what: string
  kind: GiftKind
  quantity: number
  state: GiftState
  promisedAt: Instant | null
  arrivedAt: Instant | null
  /** Why it was declined, returned or destroyed, in the words that were kept. */
  reason: string
  /** "14 fitted in TERN-01, -02 and -05, 4 kept as spares, 2 failed. Those three lots raised £612.00 together." */
  sentences: string[]
  machines: InMachine[]
  /** Lots with which it goes as an extra. */
  withLots: SoldLot[]
}

/** All that a donor is told on their own page; nothing in it is about anybody else. */
export interface Yours {
  campaign: string
  cause: string
  currency: Currency
  zone: string
  creditName: string
  sayIt: string
  asked: { creditName: string; sayIt: string } | null
  anonymity: Anonymity
  consents: Consents
  gifts: YourGift[]
  /** Everything that lots with these gifts raised together; null while none is sold. */
  raised: { lots: number; minor: Minor } | null
}
