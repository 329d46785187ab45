import { z } from 'zod'
import { countIn } from '#kernel/count'
import { isMailAddress, mailAddress } from '#kernel/mail-address'
import { formKey, idIn, idOrNone, text } from '#kernel/text'
import { wordsIn } from '#kernel/words'

export const CONSENT_USES = ['page', 'stream', 'card'] as const
export type ConsentUse = (typeof CONSENT_USES)[number]

/** named: as they wish. friend: listed as "a friend". maker-only: the maker knows, nobody else. unknown: nobody knows who it was. */
export const ANONYMITIES = ['named', 'friend', 'maker-only', 'unknown'] as const
export type Anonymity = (typeof ANONYMITIES)[number]

export const GIFT_KINDS = ['parts', 'boards', 'cases', 'extras', 'labour', 'postage', 'money'] as const
export type GiftKind = (typeof GIFT_KINDS)[number]

export const GIFT_STATES = [
  'promised',
  'on its way',
  'arrived',
  'counted',
  'inspected',
  'available',
  'fitted',
  'spare',
  'quarantined',
  'declined',
  'returned',
  'destroyed',
] as const
export type GiftState = (typeof GIFT_STATES)[number]
export type GiftChangeWhat = 'state' | 'quantity' | 'restriction' | 'approval' | 'donor'

const quantityIn = countIn(1_000_000, 'how many')

const consentsIn = z.strictObject({ page: z.boolean(), stream: z.boolean(), card: z.boolean() })
export type Consents = z.output<typeof consentsIn>

const mailOrNothing = text(254, 'That is too long for an email address.').refine(
  (typed) => typed === '' || isMailAddress(typed),
  'Write an email address like ines@example.org, or leave it empty.',
)

export const donorIn = z.strictObject({
  name: wordsIn(120, 'the name').min(1, 'Say who it is from. “Unknown” will do if nobody knows.'),
  creditName: wordsIn(120, 'the credit name').default(''),
  sayIt: wordsIn(120, 'how to say it').default(''),
  contact: mailOrNothing.default(''),
  anonymity: z.enum(ANONYMITIES, 'Choose how they may be named.').default('named'),
  consents: consentsIn.default({ page: false, stream: false, card: false }),
})
export type DonorIn = z.input<typeof donorIn>

export const donorChangeIn = z.strictObject({
  donorId: idIn(),
  /** As the house knows them; left out it stays. */
  name: wordsIn(120, 'the name').min(1, 'Write who it is.').optional(),
  creditName: wordsIn(120, 'the credit name').min(1, 'Write the name as it should be shown.'),
  sayIt: wordsIn(120, 'how to say it').default(''),
  contact: mailOrNothing.default(''),
  anonymity: z.enum(ANONYMITIES, 'Choose how they may be named.'),
})

export const consentIn = z.strictObject({
  donorId: idIn(),
  use: z.enum(CONSENT_USES, 'Choose what the consent is for.'),
  given: z.boolean(),
})

/** From the public wanted list: anyone, and shown to nobody until the staff approve it. */
export const promiseIn = z.strictObject({
  key: formKey(),
  /** A part of the wanted list; without one, the words say what is offered. */
  partId: idOrNone(),
  words: wordsIn(200, 'what you offer').default(''),
  quantity: quantityIn,
  name: wordsIn(120, 'your name').min(1, 'Write your name, so that we know whom to thank.'),
  mail: mailAddress('Write an email address like ines@example.org. We use it to tell you where to send the parts.'),
  note: wordsIn(200, 'the note').default(''),
  consents: consentsIn,
})
export type PromiseIn = z.input<typeof promiseIn>

/** By the staff, for anything that is promised or given without a parcel. */
export const giftIn = z.strictObject({
  donorId: idIn(),
  kind: z.enum(GIFT_KINDS, 'Choose what kind of gift it is.'),
  partId: idOrNone(),
  words: wordsIn(200, 'what it is').default(''),
  quantity: quantityIn.optional(),
  minutes: countIn(600_000, 'how many minutes').optional(),
  amountMinor: countIn(100_000_000, 'the amount').optional(),
  onlyForUnitId: idOrNone(),
  onlyForDesignId: idOrNone(),
})
export type GiftIn = z.input<typeof giftIn>

export const recountGiftIn = z.strictObject({
  giftId: idIn(),
  quantity: countIn(1_000_000, 'how many there are', 0),
  reason: wordsIn(500, 'the reason').min(1, 'Say what was wrong with the count.'),
})

/** The courteous letter as the staff have it before them; empty, it is written from the facts, or none goes. */
const letterOrNone = {
  subject: wordsIn(200, 'the subject').default(''),
  body: wordsIn(5000, 'the letter').default(''),
}

/** Promises arrive by a parcel and are declined by a letter, each with a form of its own. */
export const giftMoveIn = z.strictObject({
  giftId: idIn(),
  to: z.enum(GIFT_STATES, 'Choose where it goes.').exclude(['promised', 'arrived', 'declined'], 'Choose where it goes.'),
  reason: wordsIn(500, 'the reason').default(''),
  ...letterOrNone,
})

export const declineIn = z.strictObject({
  giftId: idIn(),
  reason: wordsIn(500, 'the reason').min(1, 'Say why, in words the donor can read.'),
  /** They are told in person or by a letter of one's own: nothing is sent. */
  byHand: z.boolean().default(false),
  ...letterOrNone,
})
