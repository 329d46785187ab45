import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'

/** none: asked and said no · gave: gave something to the campaign · household: lives or works with the staff · worked: had a hand in it. */
export const DISCLOSURE_KINDS = ['none', 'gave', 'household', 'worked'] as const
export type DisclosureKind = (typeof DISCLOSURE_KINDS)[number]

export const discloseIn = z.strictObject({
  /** Nought for the whole sale. */
  lot: z.int().min(0),
  kind: z.enum(DISCLOSURE_KINDS, 'Say whether you are connected with the sale.'),
  words: text(300, 'Use at most 300 characters here.'),
})
export type DiscloseIn = z.infer<typeof discloseIn>

export const askRetractionIn = z.strictObject({
  lot: z.int().min(1),
  reason: text(300, 'Use at most 300 characters here.').min(3, 'Say in a few words what happened.'),
})

export interface Disclosure {
  lot: number | null
  kind: DisclosureKind
  words: string
  at: Instant
}
