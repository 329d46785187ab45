import type { Instant } from '#kernel/instant'
import type { Packing } from './packing.rules'

/** A page to be made as nobody in particular sees it. */
export interface PageOrder {
  path: string
  /** The house's time. */
  now: Instant
  /** What keeps the house from taking anything, in words; null on a good day. */
  trouble: string | null
}

/** A page as it goes out, packed once for all who ask. */
export interface MadePage {
  status: number
  type: string
  policy: string
  /** Strong; each packing has its own. */
  etag: string
  bodies: Record<Packing, Uint8Array>
}

/** Where pages are made; null for what cannot be given to others: a fault, or a way to another page. */
export interface PageShop {
  make(order: PageOrder): Promise<MadePage | null>
  close(): void
}
