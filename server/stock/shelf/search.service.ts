import type { z } from 'zod'
import type { Sight } from '#runtime/queue/turn'
import { batchesById } from './batch.service'
import { searchWords } from './search.rules'
import { batchIdsOfTags, findBatchIds } from './search.store'
import type { searchIn } from './shelf.contract'
import { type BatchCard, batchCards } from './stock.service'

/** As many as a page shows; who wants others types another word. */
const MOST = 50

export interface Found {
  batches: BatchCard[]
  isCut: boolean
}

/** Batches by part, value, marking, giver, code or the tag of a piece, newest first. */
export function searchBatches(sight: Sight, { words, state }: z.output<typeof searchIn>): Found {
  const tag = words.trim().toUpperCase()
  const ofTag = /^P-?\d/.test(tag) ? batchIdsOfTags(sight.db, tag.replace(/^P-?/, 'P-'), MOST + 1) : []
  const ids = ofTag.length > 0 ? ofTag : findBatchIds(sight.db, searchWords(words), state, MOST + 1)
  const found = new Map(batchesById(sight, ids).map((row) => [row.id, row]))
  const rows = ids.flatMap((id) => found.get(id) ?? [])
  return { batches: batchCards(sight, rows.slice(0, MOST)), isCut: ids.length > MOST }
}
