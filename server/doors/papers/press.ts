import { createHash } from 'node:crypto'
import type { PaperOrder } from '#paper/order'
import type { Workshop } from '#runtime/workers/workers'
import { setPaper } from './papers'

export interface Press {
  print(order: PaperOrder): Promise<Uint8Array>
  close(): void
}

type PaperShop = Pick<Workshop<PaperOrder, Uint8Array>, 'make' | 'close'>

const MOST_KEPT = 40

/** Sets papers on the thread of whoever asks: for tests, and for houses that nobody visits. */
export const onThisThread: PaperShop = { make: async (order) => setPaper(order), close: () => {} }

/** Prints papers, and keeps the papers lately asked for: setting one takes a quarter of a second. */
export function openPress(shop: PaperShop): Press {
  const kept = new Map<string, Promise<Uint8Array>>()
  return {
    print(order) {
      const key = createHash('sha256').update(JSON.stringify(order)).digest('base64url')
      const before = kept.get(key)
      const paper = before ?? shop.make(order)
      kept.delete(key)
      kept.set(key, paper)
      // One that failed is not kept: the next to ask tries again.
      if (!before) paper.catch(() => kept.delete(key))
      const oldest = kept.keys().next().value
      if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest)
      return paper
    },
    close: shop.close,
  }
}
