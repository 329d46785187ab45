import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import { z } from 'zod'
import { fromBase64url, toBase64url } from './base64url.rules'
import { canonicalText } from './jws.rules'

/** A public key that a signature may be checked with. Its name is the fingerprint of itself (RFC 7638), so none can stand under another's name. */
export interface PublicKey {
  kid: string
  /** The 32 bytes of Ed25519 as base64url. */
  x: string
  /** False for a key that the house signed with earlier and has replaced. */
  isNewest: boolean
}

const keySet = z.object({
  keys: z
    .array(z.object({ kty: z.literal('OKP'), crv: z.literal('Ed25519'), x: z.string(), kid: z.string() }))
    .min(1)
    .max(200),
})

/** RFC 7638 over the members that RFC 8037 requires. */
export const thumbprintOf = (x: string): string =>
  toBase64url(sha256(new TextEncoder().encode(canonicalText({ crv: 'Ed25519', kty: 'OKP', x }))))

/** Reads a published set, the newest key last; or says in words why it cannot be believed. */
export function readKeySet(value: unknown): { keys: PublicKey[] } | { fault: string } {
  const read = keySet.safeParse(value)
  if (!read.success) return { fault: 'This is not a set of Ed25519 keys as the house publishes it (jwks.json).' }
  const { keys } = read.data
  for (const { kid, x } of keys) {
    if (fromBase64url(x)?.length !== 32) return { fault: `The key ${kid} has not the 32 bytes of an Ed25519 key.` }
    if (thumbprintOf(x) !== kid)
      return { fault: `It holds a key under the name ${kid}, which is not its fingerprint. Do not use this set.` }
  }
  return { keys: keys.map(({ kid, x }, index) => ({ kid, x, isNewest: index === keys.length - 1 })) }
}

export const sha256Hex = (bytes: Uint8Array): string => bytesToHex(sha256(bytes))

/** The start of a fingerprint in groups, to be read out or compared by eye: "x7Kp 2aQ9 …". */
export const shortKey = (kid: string): string => (kid.slice(0, 16).match(/.{4}/g) ?? []).join(' ')
