import { z } from 'zod'

/** The small file beside a copy that says whose it is. */
export const MARK_FILE = 'house.json'

const markShape = z.object({
  format: z.literal(1),
  /** The name of the first key of the house. */
  house: z.string().min(1),
  /** Which machine and folder write it, without saying where. */
  writer: z.string().min(1),
  /** Another each time it is written: whether somebody still writes shows without looking at a clock. */
  beat: z.string().min(1),
  program: z.string(),
  lastMigration: z.string(),
  /** The generation of the database that is whole, and the last part of it that had arrived. */
  generation: z
    .string()
    .regex(/^[\da-f]{16}$/)
    .nullable(),
  last: z.string().nullable(),
  /** Until when everything was there. */
  goodUntil: z.iso.datetime().nullable(),
  /** How much room the house takes. An earlier program did not say. */
  bytes: z.int().nonnegative().optional(),
})
export type Mark = z.infer<typeof markShape>

export function readMark(bytes: Uint8Array): Mark {
  try {
    return markShape.parse(JSON.parse(new TextDecoder().decode(bytes)))
  } catch (cause) {
    throw new Error(`Its ${MARK_FILE} is not what a house of this version wrote.`, { cause })
  }
}

export const markBytes = (mark: Mark): Uint8Array => new TextEncoder().encode(`${JSON.stringify(mark, null, 2)}\n`)
