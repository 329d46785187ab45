// A checker of certificates and of how they stand that shares nothing with the house: written from
// public/certificate-format.md alone, with node:crypto and plain JSON. It throws at the first thing that is not as the document says.
import { createPublicKey, verify } from 'node:crypto'
import { type Anything, canonical, hasExactly, must, sha256 } from './plain'

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
  must(sha256(canonical({ crv, kty, x })).toString('base64url') === head.kid, 'the name of a key is its thumbprint')
  const key = createPublicKey({ key: { kty, crv, x }, format: 'jwk' })
  must(verify(null, Buffer.from(`${file.protected}.${file.payload}`), key, bytesOf(file.signature)), 'the signature')
  return canonicalIn(bytesOf(file.payload))
}

/** A certificate of tests: what was signed, once it was found to be one that a house gives. */
export function verifyCertificate(file: Anything, jwks: Anything): Anything {
  const said = verifySigned(file, jwks)
  must(said.kind === 'tagstrip-certificate' && said.version === 1, 'a certificate')
  must(/^TS-\d{4}-\d{4,}-[0-9A-Z]$/.test(said.serial), 'a serial')
  must(sumOf(said.serial.replaceAll('-', '')) === 1, 'its check character')
  must(said.results.length > 0, 'a reading')
  for (const { verdict } of said.results) must(verdict === 'pass' || verdict === 'pass within doubt', 'no other verdict is certified')
  for (const { takenAt, value } of said.results) {
    must(new Date(takenAt).toJSON() === takenAt, 'an instant')
    must(value === null || typeof value === 'number', 'a number, or none')
  }
  for (const { again } of said.withdrawn ?? []) must(Array.isArray(again), 'a list of checks')
  must(new Set(said.results.map(({ check }: Anything) => check)).size === said.results.length, 'one reading of each check')
  for (const { serial, at, again, reason } of said.withdrawn ?? []) {
    must(serial !== said.serial && reason.trim() !== '', 'another was withdrawn, with a reason')
    must(at <= said.issuedAt, 'withdrawn before it was signed')
    for (const { check, takenAt } of said.results) must(!again.includes(check) || takenAt >= at, 'measured again')
  }
  return said
}

/** Two certificates of one house. */
export function verifyTwo(one: Anything, other: Anything): void {
  for (const [by, of] of [
    [one, other],
    [other, one],
  ])
    for (const { serial } of by.withdrawn ?? []) must(serial !== of.serial, 'one that another says was withdrawn is not relied on')
  if (one.serial === other.serial) must(canonical(one) === canonical(other), 'one document under one serial')
  const [earlier, later] = one.issuedAt <= other.issuedAt ? [one, other] : [other, one]
  if (earlier.item.tag !== later.item.tag || later.withdrawn === undefined) return
  for (const { serial } of earlier.withdrawn ?? [])
    must(
      later.withdrawn.some((gone: Anything) => gone.serial === serial),
      'what was withdrawn is told for ever',
    )
}

/** ISO/IEC 7064, MOD 37-2: of a whole code it leaves 1. */
const sumOf = (code: string): number => [...code].reduce((sum, one) => (sum * 2 + Number.parseInt(one, 36)) % 37, 0)

const MORE: Record<string, string[]> = { current: [], superseded: ['at', 'by'], withdrawn: ['at', 'reason', 'again', 'by'] }

/** How certificates stand, by a signed answer. */
export function verifyStanding(file: Anything, jwks: Anything, now: number): Anything {
  const said = verifySigned(file, jwks)
  must(said.kind === 'tagstrip-standing' && said.version === 1, 'how certificates stand')
  must(hasExactly(said, ['kind', 'version', 'covers', 'saidAt', 'until', 'certificates', 'links']), 'no other name')
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
    if (next) must(said.certificates.indexOf(next) > said.certificates.indexOf(one), 'what follows stands after it')
  }
  return said
}

/** "current", "superseded", "withdrawn", "unknown", "another document" or "old", of a certificate at hand. */
export function standsAs(said: Anything, certificate: Anything, now: number): string {
  const document = sha256(bytesOf(certificate.payload)).toString('hex')
  const { serial } = canonicalIn(bytesOf(certificate.payload))
  const one = said.certificates.find((entry: Anything) => entry.serial === serial)
  if (!one) return 'unknown'
  if (one.document !== document) return 'another document'
  return one.is === 'current' && now > Date.parse(said.until) ? 'old' : one.is
}

/** Of two answers of one house, the later one says what the earlier one said, but that a certificate can have ended since. */
export function verifyAnswers(earlier: Anything, later: Anything): void {
  for (const before of earlier.certificates) {
    const after = later.certificates.find(({ serial }: Anything) => serial === before.serial)
    must(after || later.covers === 'one', 'what was issued stays in the list')
    if (!after) continue
    for (const name of ['unit', 'issuedAt', 'document']) must(after[name] === before[name], `${name} stays as it was said`)
    if (before.is === 'current') continue
    if (after.is !== before.is) must(before.is === 'superseded' && after.is === 'withdrawn', 'what ended is not current again')
    else {
      for (const name of ['at', 'reason', 'again'])
        must(canonical([after[name]]) === canonical([before[name]]), `${name} stays as it was said`)
      must(before.by === null || after.by === before.by, 'what followed it stays the same')
    }
  }
}

/** What a certificate says of earlier ones of its machine, every later answer knows. */
export function verifyWithdrawn(certificate: Anything, said: Anything): void {
  for (const { serial, at } of certificate.withdrawn ?? []) {
    const told = said.certificates.find((one: Anything) => one.serial === serial)
    must(at > said.saidAt || (told ? told.is === 'withdrawn' : said.covers === 'one'), 'what was withdrawn is told as withdrawn')
  }
  for (const one of said.certificates) {
    if (one.serial === certificate.serial) must(one.unit === certificate.item.tag && one.issuedAt === certificate.issuedAt, 'as it is')
    if (one.is !== 'withdrawn' || one.unit !== certificate.item.tag || one.at >= certificate.issuedAt) continue
    if (certificate.withdrawn === undefined && one.again.length === 0) continue
    const isSaid = (certificate.withdrawn ?? []).some((gone: Anything) => gone.serial === one.serial && gone.at === one.at)
    must(isSaid, 'a later certificate says what was withdrawn before it')
  }
}
