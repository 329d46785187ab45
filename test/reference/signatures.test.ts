import { createHash, createPrivateKey, createPublicKey, sign, verify } from 'node:crypto'
import { calculateJwkThumbprint, flattenedVerify, importJWK } from 'jose'
import { expect, test } from 'vitest'
import { fromBase64url, toBase64url } from '#bench/certificates/base64url.rules'
import { canonicalText } from '#bench/certificates/jws.rules'
import { checkCharacter, hasGoodCheckCharacter } from '#kernel/ids'
import { aKey } from '#test/make/signing-key'
import rfc8037 from './rfc-8037.json'
import published from './signatures.json'

interface Row {
  kind: string
  name?: string
  seed?: string
  public?: string
  message_hex?: string
  signature?: string
  ieee754?: string
  json?: string | null
  input_json?: string
  output_hex?: string
  sha256?: string
  payload?: string
  check?: string
  source: string
}

const rows = published.rows as Row[]
const of = (kind: string) => rows.filter((row) => row.kind === kind)
const hex = (text = '') => Buffer.from(text, 'hex')
const publicKey = (text = '') => createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x: hex(text).toString('base64url') }, format: 'jwk' })

test.each(of('ed25519'))('Ed25519 $name gives the published signature ($source)', (row) => {
  const key = aKey('any', row.seed)
  expect(Buffer.from(key.sign(hex(row.message_hex))).toString('hex')).toBe(row.signature)
  expect(verify(null, hex(row.message_hex), publicKey(row.public), hex(row.signature))).toBe(true)
})

test.each(of('ed25519_negative'))('a signature with S + L is refused: $name ($source)', (row) => {
  expect(verify(null, hex(row.message_hex), publicKey(row.public), hex(row.signature))).toBe(false)
})

test('the JWS of RFC 8037 appendix A comes out byte for byte, and jose takes it', async () => {
  const secret = createPrivateKey({ key: rfc8037.jwk, format: 'jwk' })
  const signed = Buffer.from(`${toBase64url(Buffer.from('{"alg":"EdDSA"}'))}.${toBase64url(Buffer.from(rfc8037.text))}`)
  expect(signed.toString()).toBe(`${rfc8037.protected}.${rfc8037.payload}`)
  expect(toBase64url(sign(null, signed, secret))).toBe(rfc8037.signature)
  const { kty, crv, x } = rfc8037.jwk
  expect(await calculateJwkThumbprint({ kty, crv, x })).toBe(rfc8037.thumbprint)
  const { protected: head, payload, signature } = rfc8037
  const result = await flattenedVerify({ protected: head, payload, signature }, await importJWK({ kty, crv, x }, 'EdDSA'))
  expect(Buffer.from(result.payload).toString()).toBe(rfc8037.text)
})

test.each(of('jcs_number').filter((row) => row.json !== null))('the number $ieee754 is written $json ($source)', (row) => {
  expect(canonicalText(hex(row.ieee754).readDoubleBE())).toBe(row.json)
})

test('a number that JSON cannot carry is never signed (RFC 8785 appendix B)', () => {
  expect(() => canonicalText(Number.NaN)).toThrow()
  expect(() => canonicalText({ a: Number.POSITIVE_INFINITY })).toThrow()
})

test.each(of('jcs_file'))('canonical JSON of "$name" has the published bytes ($source)', (row) => {
  const bytes = Buffer.from(canonicalText(JSON.parse(row.input_json ?? '')))
  expect(bytes.toString('hex')).toBe(row.output_hex)
  expect(createHash('sha256').update(bytes).digest('hex')).toBe(row.sha256)
})

test.each(of('iso7064'))('the check character of $payload is $check ($source)', (row) => {
  expect(checkCharacter(row.payload ?? '')).toBe(row.check)
  expect(hasGoodCheckCharacter(`${row.payload}${row.check}`)).toBe(true)
})

test.each([
  ['', ''],
  ['f', 'Zg'],
  ['fo', 'Zm8'],
  ['foo', 'Zm9v'],
  ['foob', 'Zm9vYg'],
  ['fooba', 'Zm9vYmE'],
  ['foobar', 'Zm9vYmFy'],
])('base64url of "%s" is "%s" (RFC 4648 section 10, without padding)', (plain, encoded) => {
  expect(toBase64url(Buffer.from(plain))).toBe(encoded)
  expect(Buffer.from(fromBase64url(encoded) ?? [1]).toString()).toBe(plain)
})

test.each(['Zg==', 'Zg=', 'Z', 'Zh', 'Zm9', 'Zm9vY', 'Zm9v\n', ' Zm9v', 'Zm+v', 'Zm/v', 'Zm9vYh'])(
  '"%s" is no canonical base64url and is refused',
  (text) => {
    expect(fromBase64url(text)).toBeNull()
  },
)
