import { sha256 as portable } from '@noble/hashes/sha2.js'

// What lies in Node is asked for at run time, since rules run in a browser too, which has none of it.
const native = globalThis.process?.getBuiltinModule?.('node:crypto')

/** SHA-256 of bytes, or of a text in UTF-8: by the platform where it can do so at once, and else by the library. */
export const sha256: (data: Uint8Array | string) => Uint8Array = native?.hash
  ? (data) => native.hash('sha256', data, 'buffer')
  : (data) => portable(typeof data === 'string' ? new TextEncoder().encode(data) : data)
