import { createPrivateKey, createPublicKey, sign } from 'node:crypto'
import { toBase64url } from '#bench/certificates/base64url.rules'

/** A key pair with the shape of the house's own, made from a fixed seed so that tests give the same bytes each time. */
export function aKey(kid = 'test-key', seedHex = '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60') {
  const pkcs8 = Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), Buffer.from(seedHex, 'hex')])
  const secret = createPrivateKey({ key: pkcs8, format: 'der', type: 'pkcs8' })
  const jwk = { ...createPublicKey(secret).export({ format: 'jwk' }), kid, alg: 'EdDSA', use: 'sig' }
  return { kid, sign: (bytes: Uint8Array) => new Uint8Array(sign(null, bytes, secret)), jwks: () => ({ keys: [jwk] }) }
}

/** A signed certificate as the house would make it. */
export function signedWith(key: ReturnType<typeof aKey>, parts: { protected: string; payload: string; bytes: Uint8Array }) {
  return { payload: parts.payload, protected: parts.protected, signature: toBase64url(key.sign(parts.bytes)) }
}
