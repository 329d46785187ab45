import { createPublicKey, type KeyObject, verify } from 'node:crypto'
import { thumbprintOf } from '../disk/keys'

// Whoever may connect to a NATS may send on any subject of it. A relay shows and believes only what its house signed: by its first key,
// whose fingerprint is the name by which the relay knows it.

/** In this header of a message stands the public half of the key, and after a point the signature. */
export const SIGNED = 'Tagstrip-Signed'

/** What is signed as one kind of message is not taken for another. */
export type Kind = 'beat' | 'frame'

export type Signing = (kind: Kind, bytes: Uint8Array) => string

const ofKind = (kind: Kind, bytes: Uint8Array) => Buffer.concat([Buffer.from(`tagstrip relay ${kind}\n`), bytes])

/** Signs with the house's first key; `x` is its public half. */
export const openSigning =
  (x: string, sign: (bytes: Uint8Array) => Uint8Array): Signing =>
  (kind, bytes) =>
    `${x}.${Buffer.from(sign(ofKind(kind, bytes))).toString('base64url')}`

/** Whether the house of this name signed it. */
export function openCheck(kid: string): (kind: Kind, bytes: Uint8Array, signed: string | undefined) => boolean {
  let known: { x: string; key: KeyObject } | null = null
  const keyOf = (x: string): KeyObject | null => {
    if (known?.x === x) return known.key
    const jwk = { crv: 'Ed25519', kty: 'OKP', x }
    if (thumbprintOf(jwk) !== kid) return null
    known = { x, key: createPublicKey({ key: jwk, format: 'jwk' }) }
    return known.key
  }
  return (kind, bytes, signed = '') => {
    const [x = '', signature = ''] = signed.split('.')
    const key = keyOf(x)
    return key !== null && verify(null, ofKind(kind, bytes), key, Buffer.from(signature, 'base64url'))
  }
}
