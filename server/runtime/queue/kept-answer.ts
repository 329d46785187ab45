import { type Sealing, sealFor } from './sealing'

// Answers are kept for forms that are sent twice, and may hold a maximum.

const sealOf = (keys: Sealing) => sealFor(keys, 'answers kept for forms that are sent twice')

/** Spaces at the end give answers of about one length the same, so that it does not tell how many digits they have. */
const STEP = 256

/** An answer as JSON text, sealed and bound to the key of its form. */
export const sealAnswer = (keys: Sealing, key: string, answer: string): string =>
  sealOf(keys).close(key, Buffer.from(answer + ' '.repeat(STEP - (Buffer.byteLength(answer) % STEP))))

export const openAnswer = (keys: Sealing, key: string, sealed: string): string => sealOf(keys).open(key, sealed).toString('utf8')

/** Made of the plain digest of what a form held: from that one alone a short form can be guessed. */
export const keyedDigest = (keys: Sealing, key: string, digest: string): string =>
  Buffer.from(keys.seal(`form ${key} ${digest}`)).toString('hex')
