import type { Minor } from '#kernel/money'
import { type Sealing, sealFor } from '#runtime/queue/sealing'

// How maxima and reserves lie in the database. Each is bound to the table, the lot and the place that it belongs to: in
// another row it does not open.

/** An amount, with the random bytes behind its commitment where it has been committed to; in hex. */
export interface Figure {
  amountMinor: Minor
  nonce: string
}

/** The words under which the seal of figures is asked for. */
export const FIGURES = 'maxima and reserves'

/** Every amount takes as many bytes as any other, so that the length of what is sealed tells nothing of it. */
const AMOUNT_BYTES = 6

export const ofBid = (lot: number, sequence: number): string => `bid of lot ${lot} sequence ${sequence}`
/** Nobody bid it: sequence nought, as in its commitment. */
export const ofReserve = (lot: number): string => `reserve of lot ${lot} sequence 0`
export const ofLink = (eitherOr: string, place: number, lot: number): string => `either-or ${eitherOr} place ${place} lot ${lot}`
export const ofCap = (eitherOr: string): string => `either-or ${eitherOr} cap`

export function sealFigure(keys: Sealing, boundTo: string, amountMinor: Minor, nonce = ''): string {
  const bytes = Buffer.alloc(AMOUNT_BYTES + nonce.length / 2)
  bytes.writeUIntBE(amountMinor, 0, AMOUNT_BYTES)
  bytes.write(nonce, AMOUNT_BYTES, 'hex')
  return sealFor(keys, FIGURES).close(boundTo, bytes)
}

/** Never an amount that was not sealed just there: it throws instead. */
export function openFigure(keys: Sealing, boundTo: string, sealed: string): Figure {
  const bytes = openBytes(keys, boundTo, sealed)
  return { amountMinor: bytes.readUIntBE(0, AMOUNT_BYTES), nonce: bytes.toString('hex', AMOUNT_BYTES) }
}

function openBytes(keys: Sealing, boundTo: string, sealed: string): Buffer {
  try {
    return sealFor(keys, FIGURES).open(boundTo, sealed)
  } catch {
    throw new Error(`What is sealed as ${boundTo} does not open: it was changed, or it was sealed for another place or by another house.`)
  }
}
