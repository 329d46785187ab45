import { z } from 'zod'
import { countIn } from '#kernel/count'
import { AQLS, LEVELS } from '../shelf/sampling.rules'

export const PART_KINDS = [
  'resistor',
  'capacitor',
  'inductor',
  'crystal',
  'diode',
  'transistor',
  'chip',
  'display',
  'connector',
  'switch',
  'fuse',
  'transformer',
  'board',
  'case',
  'other',
] as const
export type PartKind = (typeof PART_KINDS)[number]

const words = (most: number, what: string) =>
  z
    .string()
    .trim()
    .max(most, `Keep ${what} under ${most + 1} characters.`)

const SHA256 = /^[0-9a-f]{64}$/
const IDCODE = /^0x[0-9a-f]{8}$/

/** What a catalogue entry says. `value` as written ("4k7"); the house keeps it as "4.7 kΩ". */
export const partIn = z.strictObject({
  kind: z.enum(PART_KINDS, 'Choose what kind of part it is.'),
  name: words(120, 'the name').min(1, 'Give the part a name, such as "Crystal oscillator" or its type number.'),
  value: words(40, 'the value').default(''),
  package: words(60, 'the package').default(''),
  rating: words(60, 'the rating').default(''),
  programmed: z.boolean().default(false),
  socketed: z.boolean().default(false),
  hardToFind: z.boolean().default(false),
  imageSha256: z.string().trim().toLowerCase().regex(SHA256, 'A SHA-256 is 64 characters, 0-9 and a-f.').optional(),
  idcode: z.string().trim().toLowerCase().regex(IDCODE, 'An identification code is written like 0x1ba02093.').optional(),
})
export type PartIn = z.input<typeof partIn>

export interface PartRow {
  id: string
  kind: PartKind
  name: string
  value: string
  package: string
  rating: string
  programmed: boolean
  socketed: boolean
  hardToFind: boolean
  imageSha256: string | null
  idcode: string | null
}

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

const photoSha = z.string().regex(/^([0-9a-f]{64})?$/, 'The photograph was not kept. Take it again.')

export const purchaseIn = z.strictObject({
  partId: z.string(),
  boughtFrom: words(120, 'the seller').min(1, 'Write where it was bought.'),
  quantity: countIn(1_000_000, 'how many'),
  marking: words(80, 'the marking').default(''),
  dateCode: words(40, 'the date code').default(''),
})

export const recountIn = z.strictObject({
  batchId: z.string(),
  quantity: countIn(1_000_000, 'how many', 0),
  reason: words(500, 'the reason').min(1, 'Say why the count is corrected.'),
})

export const badIn = z.strictObject({
  batchId: z.string(),
  bad: countIn(1_000_000, 'how many are bad', 0),
  reason: words(500, 'what was seen').min(1, 'Say what was seen.'),
})

export const inspectionIn = z.strictObject({
  pieceId: z.string(),
  reader: words(120, 'the reader').min(1, 'Say which reader or meter, or "by eye".'),
  verdict: z.enum(VERDICTS, 'Choose what you conclude.').exclude(['not inspected'], 'Choose what you conclude.'),
  symptom: words(500, 'the symptom').default(''),
  imageSha256: z
    .string()
    .trim()
    .toLowerCase()
    .regex(/^([0-9a-f]{64})?$/, 'A SHA-256 is 64 characters, 0-9 and a-f.')
    .default(''),
  idcode: z
    .string()
    .trim()
    .toLowerCase()
    .regex(/^(0x[0-9a-f]{8})?$/, 'An identification code is written like 0x1ba02093.')
    .default(''),
  /** Said that a piece which was read as programmed is blank now. */
  confirmMix: z.boolean().optional(),
  photoSha: photoSha.optional(),
})

export const samplingIn = z.strictObject({
  batchId: z.string(),
  level: z.enum(LEVELS, 'Choose a level: I, II or III.'),
  aql: z.enum(AQLS, 'Choose how many bad ones in a hundred are still acceptable.'),
})

export const batchTestIn = z.strictObject({
  batchId: z.string(),
  tested: countIn(1_000_000, 'how many were tested'),
  bad: countIn(1_000_000, 'how many of them are bad', 0),
  reader: words(120, 'the meter').min(1, 'Say with which meter, or "by eye".'),
  symptom: words(500, 'what was seen').default(''),
  photoSha: photoSha.default(''),
})

/** A tag or code as typed or scanned; the address that a label carries is taken as well. */
export const findIn = z.strictObject({
  code: z.string().trim().min(1, 'Scan a label, or type what stands below its code.').max(300, 'That is too long for a tag.'),
})

export const searchIn = z.strictObject({
  words: z.string().max(100, 'Search with fewer words.'),
  state: z.enum(['all', 'in hand', 'quarantined']).default('all'),
})

export const tellIn = z.strictObject({
  noticeId: z.string().max(60),
  how: z.enum(['letter', 'by hand'], 'Choose how they are told.'),
  subject: words(160, 'the subject').default(''),
  body: words(4000, 'the letter').default(''),
})

export const quarantineIn = z.strictObject({
  batchId: z.string(),
  reason: words(500, 'the reason').min(1, 'Say what is suspected: it is told to everybody who holds a piece of it.'),
})
