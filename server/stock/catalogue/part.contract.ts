import { z } from 'zod'
import { text } from '#kernel/text'
import { wordsIn } from '#kernel/words'

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

const SHA256 = /^[0-9a-f]{64}$/
const IDCODE = /^0x[0-9a-f]{8}$/

/** What a catalogue entry says. `value` as written ("4k7"); the house keeps it as "4.7 kΩ". */
export const partIn = z.strictObject({
  kind: z.enum(PART_KINDS, 'Choose what kind of part it is.'),
  name: wordsIn(120, 'the name').min(1, 'Give the part a name, such as "Crystal oscillator" or its type number.'),
  value: wordsIn(40, 'the value').default(''),
  package: wordsIn(60, 'the package').default(''),
  rating: wordsIn(60, 'the rating').default(''),
  programmed: z.boolean().default(false),
  socketed: z.boolean().default(false),
  hardToFind: z.boolean().default(false),
  imageSha256: text(64, 'A SHA-256 is 64 characters, 0-9 and a-f.')
    .toLowerCase()
    .regex(SHA256, 'A SHA-256 is 64 characters, 0-9 and a-f.')
    .optional(),
  idcode: text(20, 'An identification code is written like 0x1ba02093.')
    .toLowerCase()
    .regex(IDCODE, 'An identification code is written like 0x1ba02093.')
    .optional(),
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
