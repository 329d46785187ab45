import { z } from 'zod'
import { countIn } from '#kernel/count'
import { idIn, text } from '#kernel/text'
import { wordsIn } from '#kernel/words'
import type { Restriction } from '../donors/gift.rules'
import { AQLS, LEVELS } from './sampling.rules'

export const BATCH_STATES = ['available', 'quarantined'] as const
export type BatchState = (typeof BATCH_STATES)[number]

/** domain words: what was concluded about a piece; what was seen is the symptom and stands apart. */
export const VERDICTS = [
  'not inspected',
  'good',
  'good and blank',
  'good and programmed',
  'unknown image',
  'locked',
  'reader uncertain',
  'dead',
  'wrong part',
  'suspect',
] as const
export type Verdict = (typeof VERDICTS)[number]

const photoSha = text(80).regex(/^([0-9a-f]{64})?$/, 'The photograph was not saved. Take it again.')

export const purchaseIn = z.strictObject({
  partId: idIn(),
  boughtFrom: wordsIn(120, 'the seller').min(1, 'Write where it was bought.'),
  quantity: countIn(1_000_000, 'how many'),
  marking: wordsIn(80, 'the marking').default(''),
  dateCode: wordsIn(40, 'the date code').default(''),
})

export const recountIn = z.strictObject({
  batchId: idIn(),
  quantity: countIn(1_000_000, 'how many', 0),
  reason: wordsIn(500, 'the reason').min(1, 'Say why the count is corrected.'),
})

export const placeIn = z.strictObject({ batchId: idIn(), place: wordsIn(60, 'the place').default('') })

export const otherPartIn = z.strictObject({
  batchId: idIn(),
  partId: text(60).min(1, 'Choose the part that it is.'),
  reason: wordsIn(500, 'the reason').min(1, 'Say how you know that it is another part.'),
})

export const badIn = z.strictObject({
  batchId: idIn(),
  bad: countIn(1_000_000, 'how many are bad', 0),
  reason: wordsIn(500, 'what was seen').min(1, 'Say what was seen.'),
})

export const inspectionIn = z.strictObject({
  pieceId: idIn(),
  reader: wordsIn(120, 'the reader').min(1, 'Say which reader or meter, or "by eye".'),
  verdict: z.enum(VERDICTS, 'Choose what you conclude.').exclude(['not inspected'], 'Choose what you conclude.'),
  symptom: wordsIn(500, 'the symptom').default(''),
  imageSha256: text(64, 'A SHA-256 is 64 characters, 0-9 and a-f.')
    .toLowerCase()
    .regex(/^([0-9a-f]{64})?$/, 'A SHA-256 is 64 characters, 0-9 and a-f.')
    .default(''),
  idcode: text(20, 'An identification code is written like 0x1ba02093.')
    .toLowerCase()
    .regex(/^(0x[0-9a-f]{8})?$/, 'An identification code is written like 0x1ba02093.')
    .default(''),
  /** Said that a piece which was read as programmed is blank now. */
  confirmMix: z.boolean().optional(),
  photoSha: photoSha.optional(),
})

export const samplingIn = z.strictObject({
  batchId: idIn(),
  level: z.enum(LEVELS, 'Choose a level: I, II or III.'),
  aql: z.enum(AQLS, 'Choose how many bad ones in a hundred are still acceptable.'),
})

export const batchTestIn = z.strictObject({
  batchId: idIn(),
  tested: countIn(1_000_000, 'how many were tested'),
  bad: countIn(1_000_000, 'how many of them are bad', 0),
  reader: wordsIn(120, 'the meter').min(1, 'Say with which meter, or "by eye".'),
  symptom: wordsIn(500, 'what was seen').default(''),
  photoSha: photoSha.default(''),
  /** What was measured on the sample, with spaces or line ends between, all in one unit. */
  figures: text(4000, 'Keep at most 200 figures at a time.').default(''),
  unit: text(12, 'Write the unit in short, such as kΩ.').default(''),
})

export const waiveIn = z.strictObject({
  batchId: idIn(),
  name: wordsIn(80, 'the name').min(1, 'Write your name: a rejected batch is let through by somebody.'),
  reason: wordsIn(300, 'the reason').min(1, 'Say why: each machine that gets a piece of it carries the reason.'),
})

const priceFields = {
  /** As people type it; empty takes the price back. */
  amount: text(40, 'Write the amount with fewer characters, such as 1.20.').default(''),
  pieces: countIn(1_000_000, 'for how many pieces that is'),
  source: wordsIn(120, 'where the price is from').default(''),
}

/** What a part, or the pieces of one batch, would cost to buy again. */
export const priceIn = z.union([z.strictObject({ partId: idIn(), ...priceFields }), z.strictObject({ batchId: idIn(), ...priceFields })])

export const searchIn = z.strictObject({
  words: text(100, 'Search with fewer words.'),
  state: z.enum(['all', 'in hand', 'quarantined']).default('all'),
})

/** Good pieces of one part with one restriction (or none). */
export interface Stock extends Restriction {
  partId: string
  quantity: number
}
