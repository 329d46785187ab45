import { flattenedVerify, importJWK } from 'jose'
import { describe, expect, test } from 'vitest'
import { toBase64url } from '#bench/certificates/base64url.rules'
import type { SignedCertificate } from '#bench/certificates/certificates.contract'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { openSigned, partsToSign } from '#bench/certificates/jws.rules'
import { signatureHolds } from '#bench/certificates/signature'
import { DAY } from '#kernel/instant'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

const key = aKey()
const payload = draftCertificate({
  // Few checks: each byte is tried below, and what it says does not matter to the signature.
  unit: aUnit({ checks: aUnit().checks.slice(0, 2), fitted: [], instruments: [] }),
  issuer: anIssuer,
  serial: 'TS-2027-0147-M',
  issuedAt: BENCH_OPENS + 10 * DAY,
  home: 'https://longbench.example',
})
const signed = signedWith(key, partsToSign(payload, key.kid))

test('a certificate holds against the published key, says our own check and says jose', async () => {
  expect(signatureHolds(signed, key.jwks())).toBe(true)
  const [jwk] = key.jwks().keys
  const result = await flattenedVerify(signed, await importJWK(jwk ?? {}, 'EdDSA'))
  expect(JSON.parse(Buffer.from(result.payload).toString())).toEqual(payload)
  expect(result.protectedHeader).toEqual({ alg: 'EdDSA', kid: 'test-key' })
})

test('the same record signed twice gives the same bytes', () => {
  expect(signedWith(key, partsToSign(structuredClone(payload), key.kid))).toEqual(signed)
})

test('it does not hold against another key of the same name', () => {
  const other = aKey('test-key', '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb')
  expect(signatureHolds(signed, other.jwks())).toBe(false)
})

test('it does not hold against a set that lacks its key', () => {
  expect(signatureHolds(signed, aKey('next-key').jwks())).toBe(false)
  expect(signatureHolds(signed, { keys: [] })).toBe(false)
})

describe.each(['protected', 'payload', 'signature'] as const)('one character of %s changed', (part) => {
  test('is found wherever it stands, the last one included', () => {
    const text = signed[part]
    for (let at = 0; at < text.length; at += 1) {
      // The neighbour in the alphabet differs in the lowest bit, the one that sloppy decoders drop at the end.
      const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'
      const changed = alphabet.charAt(alphabet.indexOf(text.charAt(at)) ^ 1)
      const forged: SignedCertificate = { ...signed, [part]: text.slice(0, at) + changed + text.slice(at + 1) }
      expect(signatureHolds(forged, key.jwks()), `${part}, character ${at}`).toBe(false)
    }
  }, 60_000)

  test('or one byte of what it encodes, or one dropped, or one added', () => {
    const bytes = Buffer.from(signed[part], 'base64url')
    for (let at = 0; at < bytes.length; at += 1) {
      const forgedBytes = Buffer.from(bytes)
      forgedBytes[at] = (forgedBytes[at] ?? 0) ^ 1
      expect(signatureHolds({ ...signed, [part]: toBase64url(forgedBytes) }, key.jwks()), `${part}, byte ${at}`).toBe(false)
    }
    expect(signatureHolds({ ...signed, [part]: signed[part].slice(0, -1) }, key.jwks())).toBe(false)
    expect(signatureHolds({ ...signed, [part]: `${signed[part]}A` }, key.jwks())).toBe(false)
    expect(signatureHolds({ ...signed, [part]: `${signed[part]}=` }, key.jwks())).toBe(false)
  }, 60_000)
})

test.each([
  ['no algorithm', { alg: 'none', kid: 'test-key' }],
  ['another algorithm', { alg: 'HS256', kid: 'test-key' }],
  ['a key brought along', { alg: 'EdDSA', kid: 'test-key', jwk: { kty: 'OKP' } }],
  ['an address to fetch a key from', { alg: 'EdDSA', kid: 'test-key', jku: 'https://elsewhere.example/keys' }],
])('a header that names %s is refused, however well it is signed', (_what, header) => {
  const head = toBase64url(Buffer.from(JSON.stringify(header)))
  const bytes = Buffer.from(`${head}.${signed.payload}`)
  const forged = { payload: signed.payload, protected: head, signature: toBase64url(key.sign(bytes)) }
  expect(signatureHolds(forged, key.jwks())).toBe(false)
})

test('well signed but not canonical JSON is refused: the same words could then be spelt two ways', () => {
  const spaced = toBase64url(Buffer.from(JSON.stringify(payload, null, 1)))
  const bytes = Buffer.from(`${signed.protected}.${spaced}`)
  const forged = { payload: spaced, protected: signed.protected, signature: toBase64url(key.sign(bytes)) }
  expect(openSigned(forged)).toHaveProperty('opened')
  expect(signatureHolds(forged, key.jwks())).toBe(false)
})

test.each([[null], ['a text'], [[]], [{ payload: 'e30', protected: 'e30' }], [{ ...signed, header: {} }]])(
  '%j is no certificate',
  (input) => {
    expect(openSigned(input)).toHaveProperty('fault')
  },
)
