import { createHash } from 'node:crypto'
import { packed } from '../pages/pack'
import type { Packing } from '../pages/packing.rules'

/** What an address gave, as it goes out. */
export interface ReadyAnswer {
  type: string
  keepSeconds: number
  fileName?: string
  /** As it is, in bytes. */
  size: number
  /** Strong (RFC 9110, 8.8.3), so each packing has its own. */
  etag(packing: Packing): string
  /** Packed once for all who want it packed so. */
  body(packing: Packing): Promise<Uint8Array>
  /** How it goes out to who takes this packing: what is small, or packed by itself, goes as it is. */
  packing(wanted: Packing): Packing
}

/** Below this a head is longer than what packing saves. */
const WORTH_PACKING = 1_000
const PACKS_WELL = /^(text\/|application\/(json|atom\+xml|xml|ld\+json|openmetrics-text)|image\/svg\+xml)/

export function readyAnswer(parts: { type: string; body: Uint8Array; keepSeconds: number; fileName?: string }): ReadyAnswer {
  const { type, body, keepSeconds, fileName } = parts
  const isWorthPacking = body.byteLength >= WORTH_PACKING && PACKS_WELL.test(type)
  const made = new Map<Packing, Promise<Uint8Array>>()
  let tag: string | null = null
  return {
    type,
    keepSeconds,
    fileName,
    size: body.byteLength,
    etag(packing) {
      tag ??= createHash('sha256').update(body).digest('base64url').slice(0, 27)
      return `"${tag}${packing === 'identity' ? '' : `-${packing}`}"`
    },
    packing: (wanted) => (isWorthPacking ? wanted : 'identity'),
    body(packing) {
      const one = made.get(packing) ?? packed(body, packing)
      made.set(packing, one)
      return one
    },
  }
}
