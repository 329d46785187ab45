import { createPublicKey, type JsonWebKey, verify } from 'node:crypto'
import { openSigned } from './jws.rules'

/** True when the certificate opens by the rules and its signature fits the key of that name in the set. */
export function signatureHolds(signed: unknown, jwks: { keys: readonly object[] }): boolean {
  const result = openSigned(signed)
  if ('fault' in result) return false
  const { kid, signed: bytes, signature } = result.opened
  const jwk = jwks.keys.find((key) => 'kid' in key && key.kid === kid)
  if (!jwk) return false
  return verify(null, bytes, createPublicKey({ key: jwk as JsonWebKey, format: 'jwk' }), signature)
}
