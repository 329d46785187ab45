import { createHash } from 'node:crypto'
import type { PaperOrder } from '#paper/order'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { DocumentContent } from './documents.contract'
import * as store from './documents.store'

/** How a document is set: on the sheet that is usual where its currency is. */
export const orderOf = (content: DocumentContent, at: number): PaperOrder => ({
  of: 'invoice-document',
  content,
  size: content.currency === 'USD' || content.currency === 'CAD' ? 'letter' : 'a4',
  author: content.seller.name,
  at,
})

/** The sheet of a document as it was set once; null where that has not been done yet. */
export function findSheet(sight: Sight, number: number): { bytes: Uint8Array; sha256: string } | null {
  const row = store.findPaper(sight.db, number)
  return row ? { bytes: Buffer.from(row.pdf, 'base64'), sha256: row.sha256 } : null
}

/** Sets the sheets of documents that have none yet, each once; they are kept with their digests. Answers how many. */
export async function keepSheets({
  sight,
  command,
  print,
}: {
  sight(): Sight
  command<T>(work: (turn: Turn) => T): Promise<T>
  print(order: PaperOrder): Promise<Uint8Array>
}): Promise<number> {
  const waiting = store.listWithoutPaper(sight().db)
  for (const { number, content, issuedAt } of waiting) {
    const bytes = Buffer.from(await print(orderOf(content, issuedAt)))
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    await command((turn) => store.insertPaper(turn.db, { number, at: turn.now, sha256, pdf: bytes.toString('base64') }))
  }
  return waiting.length
}
