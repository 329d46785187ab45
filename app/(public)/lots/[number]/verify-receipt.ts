import type { BidAnswer } from '#sale/bids/bids.contract'
import { isKeyOf, type OpenedNote, openNote } from '#sale/history/checkpoint.rules'
import { faultOfReceipt } from '#sale/history/receipt.rules'

export interface Checked {
  /** What is wrong with the receipt, in words; null when it holds. */
  fault: string | null
  /** False when the house's keys could not be fetched, so that the signature was not looked at. */
  isSigned: boolean
}

/** A key of the house as this browser can use it. */
export interface HouseKey {
  raw: Uint8Array
  verify(signature: Uint8Array, signed: Uint8Array): Promise<boolean>
}

/** Checks a receipt in the browser before "taken" is shown. */
export async function checkReceipt(answer: BidAnswer): Promise<Checked> {
  const fault = faultOfReceipt(answer.receipt, answer.maximumMinor)
  const note = openNote(answer.receipt.checkpoint)
  if (fault !== null || !note) return { fault: fault ?? 'The head of the history cannot be read.', isSigned: false }
  const keys = await fetchKeys()
  if (!keys) return { fault: null, isSigned: false }
  const holds = await signatureHolds([note], await houseKeys(keys))
  return holds ? { fault: null, isSigned: true } : { fault: 'The signature on the head is not the house’s.', isSigned: false }
}

/** True when one of the keys signed every note. */
export async function signatureHolds(notes: readonly OpenedNote[], keys: readonly HouseKey[]): Promise<boolean> {
  for (const note of notes) {
    const signed = new TextEncoder().encode(note.text)
    const tried = await Promise.all(keys.filter(({ raw }) => isKeyOf(note, raw)).map((key) => key.verify(note.signature, signed)))
    if (!tried.includes(true)) return false
  }
  return true
}

/** The keys that the house publishes, the `x` of each JWK; null when they cannot be had. */
async function fetchKeys(): Promise<string[] | null> {
  try {
    const answer = await fetch('/.well-known/jwks.json')
    if (!answer.ok) return null
    const { keys } = (await answer.json()) as { keys: { x: string }[] }
    return keys.map(({ x }) => x)
  } catch (reason) {
    if (reason instanceof TypeError) return null
    throw reason
  }
}

/** Keys by their `x`. Where this browser knows no Ed25519, or the page came without TLS, a library verifies instead. */
export async function houseKeys(published: readonly string[]): Promise<HouseKey[]> {
  return Promise.all(
    published.map(async (x) => {
      const raw = rawOf(x)
      const own = await ownKey(x)
      if (own) return { raw, verify: (signature: Uint8Array, signed: Uint8Array) => verifyHere(own, signature, signed) }
      const { ed25519 } = await import('@noble/curves/ed25519.js')
      return { raw, verify: async (signature: Uint8Array, signed: Uint8Array) => ed25519.verify(signature, signed, raw, { zip215: false }) }
    }),
  )
}

const verifyHere = (key: CryptoKey, signature: Uint8Array, signed: Uint8Array): Promise<boolean> =>
  crypto.subtle.verify('Ed25519', key, new Uint8Array(signature), new Uint8Array(signed))

async function ownKey(x: string): Promise<CryptoKey | null> {
  if (!globalThis.crypto?.subtle) return null
  try {
    return await crypto.subtle.importKey('jwk', { kty: 'OKP', crv: 'Ed25519', x }, { name: 'Ed25519' }, false, ['verify'])
  } catch (reason) {
    if (reason instanceof DOMException) return null
    throw reason
  }
}

const rawOf = (x: string): Uint8Array =>
  Uint8Array.from(atob(x.replaceAll('-', '+').replaceAll('_', '/')), (character) => character.charCodeAt(0))
