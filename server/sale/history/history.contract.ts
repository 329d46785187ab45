import { z } from 'zod'
import { CURRENCY_CODES } from '#kernel/money'
import { STAFF_ROLES } from '#kernel/role'

/** The public history of a lot, as `/lots/{number}/history.json` gives it and as a stranger may read it back in. */
const iso = z.iso.datetime({ precision: 3 })
const minor = z.int().min(0)
const hex32 = z.string().regex(/^[0-9a-f]{64}$/)
const words = z.string().max(400)
/** Who did it: as what they acted, and never by name, since nothing of an entry can be taken back. */
const BY: readonly string[] = [...STAFF_ROLES, 'two of the staff', 'programme', 'rule']
const by = z.string().refine((one) => BY.includes(one))
const standingBid = {
  standingMinor: minor.nullable(),
  leader: z.string().nullable(),
  why: z.enum(['opening', 'second', 'cap', 'reserve']).nullable(),
  closesAt: iso,
}

const openTerms = z.strictObject({
  currency: z.enum(CURRENCY_CODES),
  openingMinor: minor,
  ladder: z.array(z.strictObject({ fromMinor: minor, stepMinor: minor })).min(1),
  hasReserve: z.boolean(),
  /** When a bid is late and what it adds; terms that were signed before this existed have none, and follow the usual rule. */
  lateBid: z.strictObject({ windowMs: z.int().min(1), addsMs: z.int().min(1) }).optional(),
  /** What was fixed in words: title, story, cause and share, seller, cancellation, postage. */
  sale: z.record(z.string(), z.json()),
})

/** One of the two of the staff who void a bid: as what they acted, and when. */
const ofTheTwo = z.strictObject({ by: z.enum(STAFF_ROLES), at: iso })

const opening = z.strictObject({ sequence: z.int().min(1), alias: z.string(), amountMinor: minor, nonce: hex32 })

/**
 * One leaf of a lot's ledger. Bidders stand under the random alias of this lot, staff under their role: no leaf carries
 * personal data, since no leaf can ever be taken back.
 */
export const leafShape = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('opened'), at: iso, closesAt: iso, terms: openTerms, reserveCommitment: hex32.nullable() }),
  z.strictObject({ kind: z.literal('bid'), at: iso, sequence: z.int().min(1), alias: z.string(), commitment: hex32, ...standingBid }),
  z.strictObject({ kind: z.literal('extended'), at: iso, closesAt: iso, by, reason: words }),
  z.strictObject({ kind: z.literal('held'), at: iso, by, reason: words }),
  z.strictObject({ kind: z.literal('resumed'), at: iso, by, shiftMs: z.int().min(0), closesAt: iso }),
  z.strictObject({ kind: z.literal('outage'), at: iso, from: iso, to: iso, shiftMs: z.int().min(0), closesAt: iso }),
  z.strictObject({
    kind: z.literal('corrected'),
    at: iso,
    by,
    words: z.string().max(4000),
    /** Where it says what became of the certificate that the terms name. */
    certificate: z.strictObject({ serial: z.string(), is: z.enum(['superseded', 'withdrawn']), by: z.string().nullable() }).optional(),
  }),
  z.strictObject({
    kind: z.literal('voided'),
    at: iso,
    alias: z.string(),
    by,
    reason: words,
    // Entries that were signed before these existed have neither.
    asked: ofTheTwo.optional(),
    agreed: ofTheTwo.optional(),
    ...standingBid,
  }),
  z.strictObject({ kind: z.literal('withdrawn'), at: iso, by, reason: words }),
  z.strictObject({
    kind: z.literal('closed'),
    at: iso,
    result: z.enum(['sold', 'unsold']),
    hammerMinor: minor.nullable(),
    leader: z.string().nullable(),
  }),
  z.strictObject({
    kind: z.literal('revealed'),
    at: iso,
    openings: z.array(opening),
    reserve: z.strictObject({ amountMinor: minor, nonce: hex32 }).nullable(),
    /** The sequence of the winner's last bid, the one maximum that stays closed. */
    sealed: z.int().min(1).nullable(),
  }),
])

export type Leaf = z.infer<typeof leafShape>
export type OfTheTwo = z.infer<typeof ofTheTwo>
export type OpenTerms = z.infer<typeof openTerms>
export type Opening = z.infer<typeof opening>

export const historyShape = z.strictObject({
  version: z.literal(1),
  lot: z.int().min(1),
  title: z.string(),
  unit: z.string(),
  state: z.string(),
  currency: z.enum(CURRENCY_CODES),
  /** The first line of every checkpoint of this lot. */
  origin: z.string(),
  leaves: z.array(leafShape),
  heads: z.array(z.strictObject({ size: z.int().min(1), checkpoint: z.string() })),
  links: z.strictObject({ lot: z.string(), page: z.string(), keys: z.string() }),
})

export type History = z.infer<typeof historyShape>

/** What a bidder is given to check and to keep: the entry, its way to a signed head, and the opening of the commitment. */
const receiptShape = z.strictObject({
  leaf: leafShape,
  index: z.int().min(0),
  size: z.int().min(1),
  /** Hashes in hex, lowest first. */
  path: z.array(hex32).max(64),
  checkpoint: z.string(),
  opening: opening.extend({ lot: z.int().min(1) }),
})
export type Receipt = z.infer<typeof receiptShape>

/** All receipts of one bidder, as one file. */
export const receiptsShape = z.strictObject({
  kind: z.literal('tagstrip-receipts'),
  version: z.literal(1),
  receipts: z.array(receiptShape).max(5000),
})
export type ReceiptsFile = z.infer<typeof receiptsShape>

/** That the newest head continues earlier ones, as `/lots/{number}/consistency.json?from=3,5` gives it. */
export const consistencyShape = z.strictObject({
  lot: z.int().min(1),
  size: z.int().min(1),
  checkpoint: z.string(),
  proofs: z.array(z.strictObject({ from: z.int().min(1), path: z.array(hex32).max(64) })),
})
export type ConsistencyProof = z.infer<typeof consistencyShape>
