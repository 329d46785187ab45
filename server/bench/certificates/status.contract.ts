import { z } from 'zod'
import { serialShape } from './certificates.contract'

/** What the house says, signed, of how its certificates stand: `/certificates/{serial}/status.json` of one, `/certificates.json` of all. */

const instant = z.iso.datetime({ precision: 3 })
const words = z.string().min(1).max(2000)
const of = {
  serial: serialShape,
  /** The unit that it was issued for. */
  unit: z.string().min(1).max(240),
  issuedAt: instant,
  /** SHA-256 of what was signed as the certificate, so that no other document can stand under its serial. */
  document: z.string().regex(/^[0-9a-f]{64}$/),
}

export const statusShape = z.discriminatedUnion('is', [
  z.strictObject({ ...of, is: z.literal('current') }),
  z.strictObject({ ...of, is: z.literal('superseded'), at: instant, by: serialShape }),
  z.strictObject({
    ...of,
    is: z.literal('withdrawn'),
    at: instant,
    reason: words,
    /** Checks that had to be measured again before another could be issued. */
    again: z.array(z.string().min(1).max(24)).max(400),
    /** The certificate that was issued after it; null while there is none. */
    by: serialShape.nullable(),
  }),
])

export const standingPayload = z.strictObject({
  kind: z.literal('tagstrip-standing'),
  version: z.literal(1),
  /** "one": of the certificate that was asked for. "all": of every one that the house ever issued. */
  covers: z.enum(['one', 'all']),
  saidAt: instant,
  /** Until when it may be relied on; what was withdrawn stays withdrawn beyond that. */
  until: instant,
  certificates: z.array(statusShape).max(100_000),
  links: z.strictObject({ home: z.url(), list: z.string(), keys: z.string() }),
})

export type CertificateStatus = z.infer<typeof statusShape>
export type StandingPayload = z.infer<typeof standingPayload>
