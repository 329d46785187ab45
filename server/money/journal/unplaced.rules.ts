import type { Minor } from '#kernel/money'
import { type JournalEntry, sumOf } from './lot-account.rules'

/** Money that came and has no home: what is left of it after what was placed or given back. */
export interface Unplaced {
  entryId: string
  amountMinor: Minor
  leftMinor: Minor
}

/** By the entry with which each came: an overpayment, an unknown payer, or what a lot gave up. Corrected ones sum to nought. */
export function unplacedSums(entries: readonly JournalEntry[]): Unplaced[] {
  const origin = new Map<string, JournalEntry[]>()
  for (const entry of entries) {
    if (!entry.postings.some(({ account }) => account === 'unplaced')) continue
    const of = entry.placesId ?? entry.correctsId ?? entry.id
    const held = origin.get(of)
    if (held) held.push(entry)
    else origin.set(of, [entry])
  }
  return [...origin].map(([entryId, all]) => ({
    entryId,
    amountMinor: 0 - sumOf(all, 'unplaced', (entry) => entry.placesId === null),
    leftMinor: 0 - sumOf(all, 'unplaced'),
  }))
}
