import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { CURRENCY_CODES, type Currency } from '#kernel/money'
import { text } from '#kernel/text'

const words = (most: number) => text(most, `Use at most ${most} characters here.`)

/** Whole seconds; 120 where nothing is said. */
const seconds = (least: number, most: number) =>
  text(20, `Write whole seconds from ${least} to ${most}.`)
    .transform((typed) => typed.normalize('NFKC').trim().replace(/s$/, '').trim())
    .refine(
      (digits) => /^\d{2,3}$/.test(digits) && Number(digits) >= least && Number(digits) <= most,
      `Write whole seconds from ${least} to ${most}.`,
    )
    .default('120')

/** Its host goes into a policy, where a semicolon would begin another rule. */
function isPlainAddress(typed: string): boolean {
  if (!URL.canParse(typed)) return false
  const { protocol, hostname, username } = new URL(typed)
  return protocol === 'https:' && username === '' && /^[a-z0-9.-]+$/.test(hostname)
}

/** An address of somebody else's, over TLS; empty for none. A page of the house leads there or shows it, so it is a plain one. */
const elsewhere = words(500)
  .refine((typed) => typed === '' || isPlainAddress(typed), 'Write a whole address that begins with https://, or leave it empty.')
  .default('')

/** The campaign's form: money as typed, civil times of the stream in its own zone (`2027-03-13T13:00`). */
export const campaignIn = z.strictObject({
  name: words(120).min(1, 'Give the campaign a name.'),
  causeName: words(200),
  causeRegistration: words(80),
  causeSharePercent: text(40, 'Write the share in per cent from 0 to 100, such as 100 or 87.5.')
    .transform((typed) => typed.normalize('NFKC').trim().replace(/%$/, '').replace(',', '.').trim())
    .pipe(z.string().regex(/^(100(\.0{1,2})?|\d{1,2}(\.\d{1,2})?)$/, 'Write the share in per cent from 0 to 100, such as 100 or 87.5.')),
  sellerName: words(200),
  sellerAddress: words(500),
  sellerKind: z.enum(['', 'private', 'trader', 'charity'], 'Choose who sells.'),
  currency: z.enum(CURRENCY_CODES, 'Choose one of the currencies.'),
  zone: words(64).min(1, 'Choose the time zone of the stream.'),
  streamOpens: words(16).regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d$/, 'Write when the stream begins.'),
  streamCloses: words(16).regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d$/, 'Write when the stream ends.'),
  target: words(40),
  howToPay: words(2000),
  cancelWords: words(4000),
  partsAddress: words(500),
  streamUrl: elsewhere,
  playerUrl: elsewhere,
  lateWindow: seconds(30, 600),
  lateAdds: seconds(30, 900),
})
/** The form as it is sent: what has a usual value may be left out. */
export type CampaignIn = z.input<typeof campaignIn>

export interface Campaign {
  id: string
  name: string
  causeName: string
  causeRegistration: string
  causeShareBp: number
  sellerName: string
  sellerAddress: string
  sellerKind: '' | 'private' | 'trader' | 'charity'
  currency: Currency
  zone: string
  streamOpensAt: Instant
  streamClosesAt: Instant
  targetMinor: number
  howToPay: string
  cancelWords: string
  partsAddress: string
  /** Where the video of the day is watched; empty where there is none. */
  streamUrl: string
  /** The player of that video, which pages of the house may show; empty where there is none. */
  playerUrl: string
  /** A bid is late in so many seconds before a closing. */
  lateWindowSeconds: number
  /** It moves the closing to how many seconds after it. */
  lateAddsSeconds: number
  isDemo: boolean
  /** Which campaign of the house it is, from one on. */
  number: number
  /** What it is called in addresses once it is over; empty before. */
  slug: string
  /** When it followed the one before; null for the first. */
  begunAt: Instant | null
  endedAt: Instant | null
}
