import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto'

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

const sealOf = (key: Uint8Array): Seal => ({
  close(boundTo, bytes) {
    const nonce = randomBytes(NONCE)
    const cipher = createCipheriv('aes-256-gcm', key, nonce).setAAD(Buffer.from(boundTo))
    const sealed = Buffer.concat([cipher.update(bytes), cipher.final()])
    return Buffer.concat([nonce, cipher.getAuthTag(), sealed]).toString('base64url')
  },
  open(boundTo, sealed) {
    const bytes = Buffer.from(sealed, 'base64url')
    const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, NONCE), { authTagLength: TAG })
      .setAAD(Buffer.from(boundTo))
      .setAuthTag(bytes.subarray(NONCE, NONCE + TAG))
    return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()])
  },
})
