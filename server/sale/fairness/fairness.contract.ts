import { z } from 'zod'
import type { Instant } from '#kernel/instant'

/** none: asked and said no · gave: gave something to the campaign · household: lives or works with the staff · worked: had a hand in it. */
export const DISCLOSURE_KINDS = ['none', 'gave', 'household', 'worked'] as const
export type DisclosureKind = (typeof DISCLOSURE_KINDS)[number]

export const discloseIn = z.strictObject({
  /** Nought for the whole sale. */
  lot: z.int().min(0),
  kind: z.enum(DISCLOSURE_KINDS, 'Say whether you are connected with the sale.'),
  words: z.string().trim().max(300, 'At most 300 letters here.'),
})
export type DiscloseIn = z.infer<typeof discloseIn>

export const askRetractionIn = z.strictObject({
  lot: z.int().min(1),
  reason: z.string().trim().min(3, 'Say in a few words what happened.').max(300, 'At most 300 letters here.'),
})

export interface Disclosure {
  lot: number | null
  kind: DisclosureKind
  words: string
  at: Instant
}

/** Something that deserves a look, with the evidence; nothing is ever done about it but by people. */
export interface Pattern {
  kind: 'address' | 'device' | 'retractions' | 'pushing' | 'connected'
  /** Paddle and name of everybody it is about. */
  people: { paddle: number | null; name: string }[]
  words: string
  evidence: { lot: number; words: string }[]
}
