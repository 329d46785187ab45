import { ed25519 } from '@noble/curves/ed25519.js'
import { fromBase64url } from '#bench/certificates/base64url.rules'

/**
 * Verifies a signature of Ed25519 (RFC 8032) here in the browser: by its own cryptography, and by a library where it
 * has none for this, as an older browser or any page that came over plain HTTP.
 */
export async function verifyEd25519(x: string, signature: Uint8Array, signed: Uint8Array): Promise<boolean> {
  const own = await ownKey(x)
  if (own) return crypto.subtle.verify('Ed25519', own, new Uint8Array(signature), new Uint8Array(signed))
  return verifyByLibrary(x, signature, signed)
}

/** The same by the library alone. */
export function verifyByLibrary(x: string, signature: Uint8Array, signed: Uint8Array): boolean {
  const key = fromBase64url(x)
  return key !== null && ed25519.verify(signature, signed, key, { zip215: false })
}

/** Many signatures of one key are checked at once, and each import of it takes as long as a check. */
let last: { x: string; subtle: SubtleCrypto; key: Promise<CryptoKey | null> } | null = null

function ownKey(x: string): Promise<CryptoKey | null> {
  const subtle = globalThis.crypto?.subtle
  if (!subtle) return Promise.resolve(null)
  if (last?.x !== x || last.subtle !== subtle) last = { x, subtle, key: imported(x) }
  return last.key
}

async function imported(x: string): Promise<CryptoKey | null> {
  try {
    return await crypto.subtle.importKey('jwk', { kty: 'OKP', crv: 'Ed25519', x }, 'Ed25519', false, ['verify'])
  } catch {
    // It does not know the algorithm: the library does.
    return null
  }
}
