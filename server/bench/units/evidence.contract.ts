import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { formKey, sha256In, text } from '#kernel/text'
import type { Sweep } from './sweep.rules'

/** What is kept beside a reading: a picture (of the machine, a meter, a scope), the table of a sweep, an image of firmware, sound or video. */
export const EVIDENCE_KINDS = ['picture', 'sweep', 'firmware', 'recording'] as const
export type EvidenceKind = (typeof EVIDENCE_KINDS)[number]

/** How its file ends, which says what it is. */
export const EVIDENCE_ENDINGS = ['webp', 'csv', 'bin', 'mp4', 'webm', 'm4a', 'mp3', 'ogg', 'wav'] as const
export type EvidenceEnding = (typeof EVIDENCE_ENDINGS)[number]

export const EVIDENCE_NOUNS: Record<EvidenceKind, string> = {
  picture: 'Picture',
  sweep: 'Sweep',
  firmware: 'Firmware image',
  recording: 'Recording',
}

export const addEvidenceIn = z.strictObject({
  key: formKey(),
  tag: text(20, 'A tag is short, such as TERN-03.').min(1, 'Write the tag of the unit, such as TERN-03.'),
  /** The reading that it was taken with; without one it belongs to the reading of `check` that stands, or to the machine. */
  readingId: text(60).optional(),
  check: text(12, 'That is not the key of a check.').optional(),
  kind: z.enum(EVIDENCE_KINDS, 'Say what it is.'),
  sha: sha256In('Choose a file first, or wait until it has arrived.'),
  ending: z.enum(EVIDENCE_ENDINGS, 'Choose a file first.'),
  /** The name of the file. */
  name: text(120, 'Keep the name under 120 characters.').default(''),
  /** What it shows; of firmware, how it was built. */
  words: text(2000, 'Keep it under 2000 characters.').default(''),
})

export const evidenceIdIn = z.strictObject({ id: text(60).min(1) })
export const showEvidenceIn = z.strictObject({ id: text(60).min(1), isShown: z.boolean() })

/** One piece as the bench sees it. */
export interface EvidenceView {
  id: string
  check: string | null
  /** It belongs to a reading that does not stand any more. */
  isOfEarlier: boolean
  kind: EvidenceKind
  sha: string
  ending: EvidenceEnding
  bytes: number | null
  name: string
  words: string
  at: Instant
  by: string
  isShown: boolean
  sweep: Sweep | null
}

/** One piece that was chosen for everybody. */
export interface ShownEvidence {
  check: string | null
  kind: EvidenceKind
  name: string
  words: string
  /** SHA-256 of the file as it was sent. */
  sha256: string
  takenAt: Instant
}
