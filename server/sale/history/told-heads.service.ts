import { hexToBytes } from '@noble/hashes/utils.js'
import type Database from 'better-sqlite3'
import type { ChangedRow } from '#runtime/standby/changed-rows'
import { append, leafHash, type Peaks, rootOfPeaks } from './merkle.rules'

/** What of a lot's history has been hashed: each entry is hashed once, however many heads follow. */
interface Hashed {
  size: number
  peaks: Peaks
}

/**
 * For a copy that follows another machine: the entries that it holds have to lead to each head that it is told. Throws in words
 * where they do not.
 */
export function checkToldHeads(handle: Database.Database): (rows: readonly ChangedRow[]) => void {
  const leaves = handle
    .prepare('SELECT body FROM ledger_leaf WHERE lot_id = ? AND position >= ? AND position < ? ORDER BY position')
    .pluck()
  const lots = new Map<string, Hashed>()
  return (rows) => {
    for (const [table, key, values] of rows) {
      if (table !== 'ledger_head' || key !== null) continue
      const [lotId, size, root] = values ?? []
      const before = lots.get(String(lotId)) ?? { size: 0, peaks: [] }
      let { peaks } = before
      const bodies = leaves.all(lotId, before.size, size) as string[]
      for (const [index, body] of bodies.entries()) peaks = append(peaks, before.size + index, leafHash(new TextEncoder().encode(body)))
      const hashed = { size: before.size + bodies.length, peaks }
      if (hashed.size !== size || Buffer.compare(rootOfPeaks(peaks), hexToBytes(String(root))) !== 0)
        throw new Error(
          `The entries of the lot ${String(lotId)} do not lead to the head that the other machine signed at ${String(size)} entries. Nothing of it was taken. Take a fresh copy.`,
        )
      lots.set(String(lotId), hashed)
    }
  }
}
