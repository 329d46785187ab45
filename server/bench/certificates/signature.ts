import { createPublicKey, type JsonWebKey, verify } from 'node:crypto'
import { openSigned, readPayload } from './jws.rules'

/** True when the certificate opens by the rules, its signature fits the key of that name in the set, and it reads as a certificate. */
export function signatureHolds(signed: unknown, jwks: { keys: readonly object[] }): boolean {
  const result = openSigned(signed)
  if ('fault' in result) return false
  const { kid, payload, signed: bytes, signature } = result.opened
  const jwk = jwks.keys.find((key) => 'kid' in key && key.kid === kid)
  if (!jwk) return false
  const key = createPublicKey({ key: jwk as JsonWebKey, format: 'jwk' })
  return verify(null, bytes, key, signature) && readPayload(payload) !== null
}
