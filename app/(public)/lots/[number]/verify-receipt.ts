import type { BidAnswer } from '../../../../server/bidding/bidding.contract'
import { type OpenedNote, openNote } from '../../../../server/bidding/checkpoint.rules'
import { faultOfReceipt } from '../../../../server/bidding/receipt.rules'

export interface Checked {
  /** What is wrong with the receipt, in words; null when it holds. */
  fault: string | null
  /** False when this browser has no means to verify the signature: over plain HTTP, or an older one. */
  isSigned: boolean
}

/** Checks a receipt in the browser before "taken" is shown. */
export async function checkReceipt(answer: BidAnswer): Promise<Checked> {
  const fault = faultOfReceipt(answer.receipt, answer.maximumMinor)
  const note = openNote(answer.receipt.checkpoint)
  if (fault !== null || !note) return { fault: fault ?? 'The head of the history cannot be read.', isSigned: false }
  const holds = await signatureHolds([note])
  return holds === false
    ? { fault: 'The signature on the head is not the house’s.', isSigned: false }
    : { fault: null, isSigned: holds === true }
}

/** True when the house's published keys verify every note, false when one fails, null when this browser cannot tell. */
export async function signatureHolds(notes: readonly OpenedNote[]): Promise<boolean | null> {
  const keys = await houseKeys()
  if (!keys) return null
  for (const { text, signature } of notes) {
    const signed = new TextEncoder().encode(text)
    const tried = await Promise.all(keys.map((key) => crypto.subtle.verify('Ed25519', key, new Uint8Array(signature), signed)))
    if (!tried.includes(true)) return false
  }
  return true
}

/** The keys that the house publishes; null where this browser knows no Ed25519 or the list cannot be had. */
async function houseKeys(): Promise<CryptoKey[] | null> {
  if (!globalThis.crypto?.subtle) return null
  try {
    const answer = await fetch('/.well-known/jwks.json')
    if (!answer.ok) return null
    const { keys } = (await answer.json()) as { keys: JsonWebKey[] }
    return await Promise.all(
      keys.map(({ kty, crv, x }) => crypto.subtle.importKey('jwk', { kty, crv, x }, { name: 'Ed25519' }, false, ['verify'])),
    )
  } catch (reason) {
    if (reason instanceof TypeError || (reason instanceof DOMException && reason.name === 'NotSupportedError')) return null
    throw reason
  }
}
