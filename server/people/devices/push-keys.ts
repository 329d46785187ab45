import { createECDH, ECDH } from 'node:crypto'
import type { Keys } from '#runtime/queue/turn'

/** By which push services know this house (RFC 8292): both halves as base64url, the public one as an uncompressed point of P-256. */
export interface PushKeys {
  publicKey: string
  privateKey: string
}

const known = new WeakMap<object, PushKeys>()

/**
 * Made from the secret that everything is sealed by and the name of the key that signs, so it is copied and restored with them,
 * a rehearsal has another, and it changes when the house's key does. A browser that was told of an earlier one asks anew.
 */
export function pushKeysOf(keys: Pick<Keys, 'kid' | 'seal'>): PushKeys {
  const found = known.get(keys)
  if (found) return found
  const curve = createECDH('prime256v1')
  for (let draw = 0; ; draw++) {
    const scalar = Buffer.from(keys.seal(`push messages, ${keys.kid}, ${draw}`))
    try {
      curve.setPrivateKey(scalar)
    } catch {
      // Not below the order of the curve, which happens once in four thousand million draws.
      continue
    }
    const made = { publicKey: curve.getPublicKey('base64url'), privateKey: scalar.toString('base64url') }
    known.set(keys, made)
    return made
  }
}

/** Whether a browser's key is one that a message can be sealed for: a point that lies on the curve. */
export function isOnCurve(p256dh: string): boolean {
  try {
    ECDH.convertKey(p256dh, 'prime256v1', 'base64url')
    return true
  } catch {
    return false
  }
}
