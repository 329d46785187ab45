import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto'
import type { Keys } from '#runtime/queue/turn'

/** Stands in a letter's text where its code will stand; the postman puts the code there on the way out. */
export const CODE_PLACE = '••••••'

const NONCE = 12
const TAG = 16

/** A key of this house's own: a copy of the database alone opens nothing. */
const keyOf = (keys: Keys) => keys.seal('codes in letters that wait')

/** A code as it waits with its letter: AES-256-GCM, bound to that letter. */
export function sealCode(keys: Keys, letterId: string, code: string): string {
  const nonce = randomBytes(NONCE)
  const cipher = createCipheriv('aes-256-gcm', keyOf(keys), nonce).setAAD(Buffer.from(letterId))
  const sealed = Buffer.concat([cipher.update(code, 'utf8'), cipher.final()])
  return Buffer.concat([nonce, cipher.getAuthTag(), sealed]).toString('base64url')
}

/** Fails when it was sealed by another house, for another letter, or changed. */
export function openCode(keys: Keys, letterId: string, sealed: string): string {
  const bytes = Buffer.from(sealed, 'base64url')
  const decipher = createDecipheriv('aes-256-gcm', keyOf(keys), bytes.subarray(0, NONCE), { authTagLength: TAG })
    .setAAD(Buffer.from(letterId))
    .setAuthTag(bytes.subarray(NONCE, NONCE + TAG))
  return Buffer.concat([decipher.update(bytes.subarray(NONCE + TAG)), decipher.final()]).toString('utf8')
}
