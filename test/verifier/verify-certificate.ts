// A checker of certificates and of how they stand that shares nothing with the house: written from
// public/certificate-format.md alone, with node:crypto and plain JSON. It throws at the first thing that is not as the document says.
import { createHash, createPublicKey, verify } from 'node:crypto'

// biome-ignore lint/suspicious/noExplicitAny: what is checked here comes from a stranger and has no type yet.
type Anything = any

const must = (holds: unknown, words: string): void => {
  if (!holds) throw new Error(words)
}

function canonical(value: Anything): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const members = Object.keys(value).sort()
  return `{${members.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`
}

function bytesOf(text: Anything): Buffer {
  const bytes = Buffer.from(String(text), 'base64url')
  must(bytes.toString('base64url') === text, 'canonical base64url')
  return bytes
}

function canonicalIn(bytes: Buffer): Anything {
  const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  const value = JSON.parse(text)
  must(canonical(value) === text, 'canonical JSON')
  return value
}

/** What was signed, once the signature was found to be by one of the keys. */
export function verifySigned(file: Anything, jwks: Anything): Anything {
  must(Object.keys(file).sort().join() === 'payload,protected,signature', 'three members')
  const head = canonicalIn(bytesOf(file.protected))
  must(Object.keys(head).sort().join() === 'alg,kid' && head.alg === 'EdDSA', 'EdDSA and a key')
  const { kty, crv, x } = jwks.keys.find(({ kid }: Anything) => kid === head.kid) ?? {}
  must(createHash('sha256').update(canonical({ crv, kty, x })).digest('base64url') === head.kid, 'the name of a key is its thumbprint')
  const key = createPublicKey({ key: { kty, crv, x }, format: 'jwk' })
  must(verify(null, Buffer.from(`${file.protected}.${file.payload}`), key, bytesOf(file.signature)), 'the signature')
  return canonicalIn(bytesOf(file.payload))
}

const MORE: Record<string, string[]> = { current: [], superseded: ['at', 'by'], withdrawn: ['at', 'reason', 'again', 'by'] }

/** How certificates stand, by a signed answer. */
export function verifyStanding(file: Anything, jwks: Anything, now: number): Anything {
  const said = verifySigned(file, jwks)
  must(said.kind === 'tagstrip-standing' && said.version === 1, 'how certificates stand')
  must(Date.parse(said.saidAt) <= now + 600_000, 'not said in times to come')
  must(said.saidAt <= said.until, 'until is not before saidAt')
  must(Date.parse(said.until) <= Date.parse(said.saidAt) + 86_400_000, 'until is no more than a day later')
  must(said.covers === 'all' || (said.covers === 'one' && said.certificates.length === 1), 'one of one, or all')
  const of = (serial: string) => said.certificates.filter((one: Anything) => one.serial === serial)
  for (const one of said.certificates) {
    const names = ['serial', 'unit', 'issuedAt', 'document', 'is', ...(MORE[one.is] ?? ['?'])]
    must(Object.keys(one).sort().join() === names.sort().join(), 'an entry has what its kind says')
    must(of(one.serial).length === 1, 'a serial stands once')
    must(one.issuedAt <= said.saidAt, 'issued before it was spoken of')
    if (one.is === 'current') {
      must(said.certificates.filter((two: Anything) => two.is === 'current' && two.unit === one.unit).length === 1, 'one stands')
      continue
    }
    must(one.issuedAt <= one.at && one.at <= said.saidAt, 'ended after it was issued, and before it was said')
    must(one.is === 'withdrawn' || one.by !== null, 'superseded by one')
    must(one.by !== one.serial, 'by another')
    must(one.is === 'superseded' || one.reason.trim() !== '', 'withdrawn with a reason')
    const [next] = of(one.by)
    must(one.by === null || said.covers === 'one' || next, 'what follows is in the list')
    if (next) must(next.unit === one.unit && next.issuedAt >= one.issuedAt, 'what follows is of the same machine, and later')
  }
  return said
}

/** "current", "superseded", "withdrawn", "unknown", "another document" or "old", of a certificate at hand. */
export function standsAs(said: Anything, certificate: Anything, now: number): string {
  const document = createHash('sha256').update(bytesOf(certificate.payload)).digest('hex')
  const { serial } = canonicalIn(bytesOf(certificate.payload))
  const one = said.certificates.find((entry: Anything) => entry.serial === serial)
  if (!one) return 'unknown'
  if (one.document !== document) return 'another document'
  return one.is === 'current' && now > Date.parse(said.until) ? 'old' : one.is
}
