import { z } from 'zod'

/** The name and the version of the pack's format. A reader refuses a later version in words. */
export const PACK_FORMAT = 'tagstrip-pack'
export const PACK_VERSION = 2

const packedFile = z.strictObject({ path: z.string().min(1).max(400), bytes: z.int().min(0), sha256: z.string().regex(/^[0-9a-f]{64}$/) })
export type PackedFile = z.infer<typeof packedFile>

/** The part that every version of the format has, so that a reader can say which version it was given. */
export const manifestHead = z.object({ format: z.string(), version: z.int() })

export const manifestShape = z.strictObject({
  format: z.literal(PACK_FORMAT),
  /** Packs of version 1 carry no signature. */
  version: z.union([z.literal(1), z.literal(PACK_VERSION)]),
  madeAt: z.iso.datetime(),
  /** Where the house was reached from outside: its name stands in signed heads. */
  publicUrl: z.string(),
  campaign: z.string(),
  /** The last migration of the database: a reader that has it knows these tables. */
  schema: z.string().regex(/^\d{4}-[a-z0-9-]+\.sql$/),
  withContacts: z.boolean(),
  /** Only a whole pack is read back. */
  isWhole: z.boolean(),
  /** A sentence for each thing that is not in it, with the reason. */
  leftOut: z.array(z.string()),
  rows: z.record(z.string(), z.int().min(0)),
  /** Figures and digests of every view. They must come out again when the pack was read back. */
  totals: z.record(z.string(), z.union([z.int(), z.string()])),
  files: z.array(packedFile),
})
export type Manifest = z.infer<typeof manifestShape>

/** Rows of one table as `tables/<name>.json` has them. */
export type PackedRow = Record<string, string | number | null>
