import { createCipheriv, createDecipheriv, createSecretKey } from 'node:crypto'
import { pooledBytes } from './pooled-bytes'

const NONCE = 12
const TAG = 16

/** What makes the key of each purpose. */
export interface Sealing {
  /** 32 bytes that only this house can make for these words: a code that nobody can guess. It outlives a rotation. */
  seal(words: string): Uint8Array
}

/** Closes and opens what only this house may read: a copy of the database alone opens nothing. */
export interface Seal {
  /** Sealed by AES-256-GCM and bound to words, such as the row that it stands in, without which it does not open again. */
  close(boundTo: string, bytes: Uint8Array): string
  /** Throws where it was sealed by another house, for other words, or changed since. */
  open(boundTo: string, sealed: string): Buffer
}

const known = new WeakMap<Sealing, Map<string, Seal>>()

/** The seal of a house for one purpose; each purpose has a key of its own. */
export function sealFor(keys: Sealing, purpose: string): Seal {
  const ofHouse = known.get(keys) ?? new Map<string, Seal>()
  known.set(keys, ofHouse)
  const seal = ofHouse.get(purpose) ?? sealOf(keys.seal(purpose))
  ofHouse.set(purpose, seal)
  return seal
}

/** Drawn many at a time: one is drawn at every bid. */
const nonces = pooledBytes(NONCE * 256)

function sealOf(bytes: Uint8Array): Seal {
  const key = createSecretKey(bytes)
  return {
    // At every bid, so nothing is made here that need not be.
    close(boundTo, bytes) {
      const sealed = Buffer.allocUnsafe(NONCE + TAG + bytes.byteLength)
      sealed.set(nonces(NONCE))
      const cipher = createCipheriv('aes-256-gcm', key, sealed.subarray(0, NONCE)).setAAD(Buffer.from(boundTo))
      sealed.set(cipher.update(bytes), NONCE + TAG)
      cipher.final()
      sealed.set(cipher.getAuthTag(), NONCE)
      return sealed.toString('base64url')
    },
    open(boundTo, sealed) {
      const bytes = Buffer.from(sealed, 'base64url')
      const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, NONCE), { authTagLength: TAG })
        .setAAD(Buffer.from(boundTo))
        .setAuthTag(bytes.subarray(NONCE, NONCE + TAG))
      return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()])
    },
  }
}
