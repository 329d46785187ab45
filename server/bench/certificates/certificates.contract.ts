import { z } from 'zod'
import { formKey, text } from '#kernel/text'
import { CHECK_KINDS, DECISION_RULES } from '../designs/design.contract'
import { CAUSES } from '../faults/fault.contract'
import { EVIDENCE_KINDS } from '../units/evidence.contract'
import { VERDICTS } from '../units/verdict.rules'

/** What a certificate says, field by field. The letters are the items of ISO/IEC 17025:2017, 7.8.2.1, used as a list to check against. */

const words = z.string().min(1).max(2000)
const shortWords = z.string().min(1).max(240)
const instant = z.iso.datetime({ precision: 3 })
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
export const serialShape = z.string().regex(/^TS-\d{4}-\d{4,}-[0-9A-Z]$/)
const checkKey = z.string().min(1).max(24)
/** Null when that side is open. */
const limit = z.number().nullable()

export const resultShape = z.strictObject({
  check: checkKey,
  stage: shortWords,
  title: shortWords,
  kind: z.enum(CHECK_KINDS),
  isHold: z.boolean(),
  /** As written down at the bench: "8.02", "yes", "0 faults in 12 h". The number beside it where there is one. */
  shown: shortWords,
  value: z.number().nullable(),
  unit: z.string().max(24).nullable(),
  nominal: z.number().nullable(),
  lower: limit,
  upper: limit,
  /** Expanded uncertainty U (k = 2), in the unit of the reading. */
  doubt: z.number().nonnegative().nullable(),
  /** What a reading from a known-good unit was, where the design gives one. */
  reference: z.number().nullable(),
  verdict: z.enum(VERDICTS),
  instrument: shortWords.nullable(),
  takenAt: instant,
  takenBy: shortWords,
  ambient: shortWords.nullable(),
  plain: words.nullable(),
  caution: words.nullable(),
  /** Of a match: the SHA-256 of the file, or the identification code of the device (IEEE 1149.1), in hexadecimal. */
  matched: z
    .string()
    .regex(/^([0-9a-f]{64}|[0-9a-f]{8})$/)
    .nullable(),
  /** SHA-256 of the photograph that was taken with the reading. Certificates that were signed earlier have none of these three. */
  photograph: sha256.nullable().optional(),
  /** Of a soak. "observed": the house's own clock ran for all of it. "stated": whoever entered it said so. */
  soak: z
    .strictObject({ hours: z.number().nonnegative(), coldStarts: z.int().nonnegative(), seen: z.enum(['observed', 'stated']) })
    .nullable()
    .optional(),
  /** Of a hold point: who released it, by the name they wrote, and whether they had taken its reading themselves. */
  released: z.strictObject({ by: shortWords, at: instant, hadRead: z.boolean() }).nullable().optional(),
  /** How a buyer repeats it: where to touch, what is needed, what to look and listen for. Only of checks that the maker opened for home. */
  home: z.strictObject({ touch: z.string().max(400), needs: z.string().max(400), signs: z.string().max(400) }).optional(),
})

export const earlierShape = z.strictObject({
  check: checkKey,
  title: shortWords,
  shown: shortWords,
  unit: z.string().max(24).nullable(),
  verdict: z.enum(VERDICTS),
  takenAt: instant,
  whyNotCurrent: words,
})

export const reworkShape = z.strictObject({
  at: instant,
  fault: words.nullable(),
  what: words,
  iron: z.boolean(),
  undid: z.array(checkKey).max(400),
})

export const instrumentShape = z.strictObject({
  name: shortWords,
  accuracy: shortWords.nullable(),
  checkedAt: instant.nullable(),
  dueAt: instant.nullable(),
})

/** A fault that was found: by which check, when, when it was closed, and what it was; `none` where only the reading was wrong. */
export const faultShape = z.strictObject({
  check: checkKey.nullable(),
  foundAt: instant,
  closedAt: instant.nullable(),
  cause: z.enum(CAUSES).nullable(),
})

/** An earlier certificate of the same unit that was withdrawn, why, and the checks that had to be measured again. */
export const withdrawnShape = z.strictObject({ serial: serialShape, at: instant, reason: words, again: z.array(checkKey).max(400) })

/** A picture, a sweep, an image of firmware or a recording that the maker chose for everybody, by the SHA-256 of its file as it was sent. */
export const evidenceShape = z.strictObject({
  check: checkKey.nullable(),
  kind: z.enum(EVIDENCE_KINDS),
  name: z.string().max(120),
  words: z.string().max(2000),
  sha256,
  takenAt: instant,
})

const fittedShape = z.strictObject({ designators: shortWords, part: shortWords, batch: shortWords.nullable(), sha256: sha256.nullable() })

export const certificatePayload = z.strictObject({
  kind: z.literal('tagstrip-certificate'),
  version: z.literal(1),
  title: shortWords, // a
  issuer: z.strictObject({ name: shortWords, address: words }), // b
  place: words, // c
  serial: serialShape, // d
  end: shortWords, // d
  madeFor: z.strictObject({ campaign: shortWords, cause: shortWords, contact: words }), // e
  method: z.strictObject({ checklist: shortWords, revision: shortWords, digest: sha256, doubt: words }), // f
  item: z.strictObject({
    tag: shortWords,
    design: shortWords,
    revision: shortWords,
    number: z.number().int().positive(),
    condition: words,
    fitted: z.array(fittedShape).max(2000),
  }), // g
  received: words, // h
  work: z.strictObject({ from: instant, to: instant }), // i
  issuedAt: instant, // j
  sampling: words, // k
  scope: words, // l
  results: z.array(resultShape).min(1).max(400), // m
  deviations: z.array(words).max(400), // n
  authorisedBy: shortWords, // o
  external: words, // p
  copying: words, // the note
  decisionRule: z.strictObject({ name: z.enum(DECISION_RULES), words }), // 7.8.6
  earlier: z.array(earlierShape).max(2000),
  reworks: z.array(reworkShape).max(400),
  /** Certificates that were signed earlier do not say. */
  faults: z.array(faultShape).max(400).optional(),
  instruments: z.array(instrumentShape).max(100),
  /** Only where some of it was chosen. */
  evidence: z.array(evidenceShape).max(400).optional(),
  /** Certificates that were signed earlier do not say. */
  withdrawn: z.array(withdrawnShape).max(400).optional(),
  atHome: z.array(checkKey).max(5),
  quirks: z.array(words).max(100),
  cautions: z.array(words).max(100),
  proves: words,
  notClaimed: words,
  links: z.strictObject({ home: z.url(), certificate: z.string(), record: z.string(), credits: z.string(), keys: z.string() }),
})

export type CertificatePayload = z.infer<typeof certificatePayload>
export type CertificateResult = z.infer<typeof resultShape>

/** Flattened JSON of RFC 7515, 7.2.2; each part is base64url in its one canonical form. */
export const signedCertificate = z.strictObject({ payload: z.string(), protected: z.string(), signature: z.string() })
export type SignedCertificate = z.infer<typeof signedCertificate>

export type CertificateState =
  | { is: 'current' }
  | { is: 'superseded'; by: string; at: number }
  /** `again`: what had to be measured again; `by`: the certificate that was issued after it, once there is one. */
  | { is: 'withdrawn'; at: number; reason: string; again: string[]; by: string | null }

/** Facts that higher rooms act on: the lot whose terms name the certificate says so. */
export const CERTIFICATE_ISSUED = 'certificate.issued'
export const CERTIFICATE_WITHDRAWN = 'certificate.withdrawn'

export const certificateFact = z.looseObject({
  serial: z.string(),
  unitId: z.string(),
  /** Why it was withdrawn. */
  reason: z.string().optional(),
  /** What it took the place of. */
  supersedes: z.string().nullish(),
  /** What had been withdrawn before it was issued. */
  after: z.string().nullish(),
})

export const serialIn = z.strictObject({ serial: text(40).min(1, 'Write the serial, such as TS-2027-0147-M.') })
export const unitTagIn = z.strictObject({ tag: text(40).min(1, 'Write the tag of a unit, such as TERN-03.') })
export const issueIn = z.strictObject({
  ...unitTagIn.shape,
  /** Said that it is certified with a fault open, which is then printed on it. */
  confirmFault: z.boolean().optional(),
})
export const withdrawIn = z.strictObject({
  serial: text(40).min(1, 'Write the serial of the certificate.'),
  reason: text(400, 'Keep the reason under 400 characters.').min(8, 'Say why, in a few words: the reason is shown on the public page.'),
  /** Keys of checks, with commas or spaces between them. */
  checks: text(2000, 'That is too long for a list of checks.').default(''),
})

/** One finding of a buyer beside the bench's. */
export interface HomeReading {
  check: string
  title: string
  bench: string
  unit: string | null
  shown: string
  doubt: number | null
  agrees: boolean
  words: string
}

export const shareHomeIn = z.strictObject({
  key: formKey(),
  tag: text(40).min(1, 'Write the tag of a unit, such as TERN-03.'),
  code: text(20, 'The code has eight letters and digits.').min(1, 'Write the code from the card in the box.'),
  meter: text(300, 'Keep the accuracy under 300 characters.').min(1, 'Say how accurate your meter is; its leaflet tells you.'),
  readings: z.array(z.strictObject({ check: text(24).min(1), written: text(40, 'That is too long for a reading.') })).max(5),
  note: text(600, 'Keep the note under 600 characters.').default(''),
})
export type ShareHomeIn = z.output<typeof shareHomeIn>
