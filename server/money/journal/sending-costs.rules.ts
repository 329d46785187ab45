import type { Minor } from '#kernel/money'
import type { JournalRow } from './entries.service'
import { sumOf } from './lot-account.rules'

type Row = Pick<JournalRow, 'kind' | 'about' | 'lotId' | 'postings' | 'id' | 'at' | 'correctsId' | 'placesId' | 'promiseId'>

/** What sending cost, by the lot that it was entered for, whoever bears it; what was taken back is taken off. Null: for no single lot. */
export function sendingCosts(entries: readonly Row[]): Map<string | null, Minor> {
  const costs = new Map<string | null, Minor>()
  for (const entry of entries) {
    if (entry.kind !== 'cost' || entry.about !== 'sending') continue
    const minor = (['cost-to-cause', 'cost-to-seller', 'cost-of-sending'] as const).reduce((sum, each) => sum + sumOf([entry], each), 0)
    costs.set(entry.lotId, (costs.get(entry.lotId) ?? 0) + minor)
  }
  return new Map([...costs].filter(([, minor]) => minor !== 0))
}
